//! Whether what was read is enough, and what is told of the rest.

use crate::read::Log;
use crate::resolve::Wanted;
use crate::rows::Rows;
use crate::{RecordingError, RepairKind, Repairs, Role};

/// How often one thing happened, and the first case.
#[derive(Default)]
pub(crate) struct Tally {
    pub count: u64,
    pub line: u64,
    pub example: String,
}

impl Tally {
    pub fn add(&mut self, line: u64, example: impl FnOnce() -> String) {
        if self.count == 0 {
            self.line = line;
            self.example = example();
        }
        self.count += 1;
    }
}

/// Tallies of one column.
#[derive(Default)]
pub(crate) struct Cells {
    pub numbers: u64,
    pub empty: Tally,
    pub none: Tally,
    pub bad: Tally,
}

/// What happened to whole rows.
#[derive(Default)]
pub(crate) struct Dropped {
    pub comment: Tally,
    pub header: Tally,
    pub text: Tally,
    pub text_column: usize,
    pub short: Tally,
    pub short_cells: usize,
    pub long: Tally,
    pub long_cells: usize,
    pub broken: Tally,
}

/// Refuses a log of which too much had to be dropped.
pub(crate) fn judge(
    log: &Log<'_, '_>,
    rows: &Rows,
    tallies: &[Cells],
    dropped: &Dropped,
) -> Result<(), RecordingError> {
    let file = || log.file.to_owned();
    let format = &log.sniffed.format;
    let kept = rows.lines.len() as u64;
    let columns = log.sniffed.names.len();
    let many = |t: &Tally| t.count > 1 && t.count * 20 > kept + t.count;
    const MEND: &str =
        "Correct the column or the decimal sign (`decimal`) in the layout, or the cells in the log";
    if many(&dropped.long) {
        let (found, bad) = (dropped.long_cells, dropped.long.count);
        let (line, rows) = (dropped.long.line, kept + bad);
        return Err(RecordingError::TooManyColumns {
            file: file(),
            line,
            found,
            expected: columns,
            bad,
            rows,
        });
    }
    if many(&dropped.short) {
        return Err(RecordingError::TooFewColumns {
            file: file(),
            line: dropped.short.line,
            found: dropped.short_cells,
            expected: log.wanted.iter().map(|w| w.index + 1).max().unwrap_or(1),
            separator: format.separator.words(),
        });
    }
    if many(&dropped.text)
        && let Some(w) = log.wanted.get(dropped.text_column)
    {
        let line = dropped.text.line;
        let at = log.place(line, w);
        let text = log.written(line, w);
        let (bad, cells) = (dropped.text.count, kept + dropped.text.count);
        return Err(RecordingError::NotANumber { at, text, unit: w.unit.symbol(), bad, cells, mend: MEND });
    }
    if kept == 0 {
        let mend = "Correct the mapped columns in the layout, or export the log again";
        let lines = rows.last_line;
        return Err(RecordingError::NoNumbers { file: file(), lines, mend });
    }
    for (w, t) in log.wanted.iter().zip(tallies) {
        let cells = t.numbers + t.none.count + t.bad.count;
        if t.bad.count > 1 && t.bad.count * 20 > cells || t.numbers == 0 && t.bad.count > 0 {
            let (at, text) = (log.place(t.bad.line, w), t.bad.example.clone());
            let bad = t.bad.count;
            return Err(RecordingError::NotANumber {
                at,
                text,
                unit: w.unit.symbol(),
                bad,
                cells,
                mend: MEND,
            });
        }
        if t.numbers == 0 {
            let at = log.place(format.data_line, w);
            return Err(RecordingError::NoValues { at, role: w.role, rows: kept });
        }
    }
    Ok(())
}

/// Tallies to repairs.
pub(crate) fn note(wanted: &[Wanted], tallies: Vec<Cells>, dropped: Dropped, repairs: &mut Repairs) {
    let whole = [
        (RepairKind::CommentLine, dropped.comment),
        (RepairKind::HeaderRepeated, dropped.header),
        (RepairKind::TextRow, dropped.text),
        (RepairKind::ShortRow, dropped.short),
        (RepairKind::LongRow, dropped.long),
        (RepairKind::TruncatedLastRow, dropped.broken),
    ];
    for (kind, t) in whole {
        if t.count > 0 {
            repairs.add(kind, None, t.count, t.line, || t.example);
        }
    }
    for (w, t) in wanted.iter().zip(tallies) {
        let kinds = [
            (RepairKind::EmptyCell, t.empty),
            (RepairKind::NoValue, t.none),
            (RepairKind::NotANumber, t.bad),
        ];
        for (kind, t) in kinds {
            if t.count > 0 && w.role != Role::Time {
                repairs.add(kind, Some((w.role, &w.name)), t.count, t.line, || t.example);
            }
        }
    }
}
