//! One recording given for several: a copied log, another path to it, a log appended to itself. Real pulls never agree in
//! every digit, and counted as repeats they would show less scatter than there is.

use std::collections::BTreeMap;

use fairpull_recordings::Recording;

use crate::gather::ReduceError;
use crate::segment::Found;
use crate::trace::Trace;

/// Step of the speeds between which two pulls are compared, m/s: where a pull begins and ends may differ by a few rows
/// with what stands around it.
const STEP: f64 = 2.0;
/// Values that change from row to row: with fewer, two short pulls of a coarse log may well agree. Judgement, no source.
const ENOUGH: usize = 40;

/// What a pull is known by.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Print {
    hash: u64,
    rows: usize,
    /// Seconds from the first to the last of the rows compared.
    lasts: f64,
    /// Where the pull stands in its log, s.
    from: f64,
    to: f64,
}

/// Prints of the pulls of a log; none of a pull that says too little.
pub(crate) fn prints(trace: &Trace, rec: &Recording, found: &[Found]) -> Vec<Option<Print>> {
    found.iter().map(|f| print(trace, rec, f)).collect()
}

fn print(trace: &Trace, rec: &Recording, found: &Found) -> Option<Print> {
    let pull = found.pull.clone();
    let speed = trace.speed.get(pull.clone())?;
    let low = STEP * libm::ceil(speed.first()? / STEP);
    let high = STEP * libm::floor(speed.last()? / STEP);
    let above = |v: f64| speed.iter().position(|x| *x >= v).map(|k| pull.start + k);
    let (first, end) = (above(low)?, above(high)?);
    let own = [&trace.speed, &trace.engine, &trace.force, &trace.throttle];
    let mut hash = 0;
    let mut changes = 0;
    for k in first..end {
        let beside = |k: usize| {
            let row = trace.row(k);
            rec.channels.iter().map(move |c| row.and_then(|r| c.values.get(r)))
        };
        let at = |k: usize| own.into_iter().map(move |s| s.get(k)).chain(beside(k)).flatten().copied();
        for x in at(k) {
            hash = mixed(hash, x);
        }
        if k > first {
            changes += at(k).zip(at(k - 1)).filter(|(now, before)| now != before && !now.is_nan()).count();
        }
    }
    let time = |k: usize| trace.time.get(k).copied();
    (changes >= ENOUGH).then_some(Print {
        hash,
        rows: end - first,
        lasts: time(end)? - time(first)?,
        from: time(pull.start)?,
        to: time(pull.end - 1)?,
    })
}

/// One more value; those that are missing are all the same.
fn mixed(hash: u64, x: f64) -> u64 {
    let bits = if x.is_nan() { u64::MAX } else { x.to_bits() };
    let h = (hash ^ bits).wrapping_mul(0x9E37_79B9_7F4A_7C15);
    (h ^ (h >> 32)).wrapping_mul(0xD6E8_FEB8_6659_FD93)
}

/// The pulls read so far.
#[derive(Default)]
pub(crate) struct Twins {
    seen: BTreeMap<(u64, usize), (String, usize, Print)>,
}

impl Twins {
    /// Refuses a log that holds a pull which was read before.
    pub(crate) fn check(&mut self, file: &str, prints: &[Option<Print>]) -> Result<(), ReduceError> {
        for (k, print) in prints.iter().enumerate() {
            let Some(p) = print else { continue };
            let known = self.seen.entry((p.hash, p.rows)).or_insert_with(|| (file.to_owned(), k, p.clone()));
            let (other, j, q) = known;
            let itself = (other.as_str(), *j) == (file, k);
            if itself || (p.lasts - q.lasts).abs() > 1e-6 * q.lasts {
                continue;
            }
            let (of, mend) = if other == file {
                (String::new(), "cut the repetition out of the log")
            } else {
                (format!(" of {other}"), "name each recording once, or leave one out with skip = \"reason\"")
            };
            return Err(ReduceError::Log {
                file: file.to_owned(),
                problem: format!(
                    "pull {} ({:.1} to {:.1} s) holds the same {} rows to the last digit as pull {}{of} ({:.1} to {:.1} s): the same pull is no repeat of itself",
                    k + 1,
                    p.from,
                    p.to,
                    p.rows,
                    *j + 1,
                    q.from,
                    q.to
                ),
                mend: mend.into(),
            });
        }
        Ok(())
    }
}
