//! Before any figure: plug-ins found, logs read, a drag for every pull.

use fairpull_core::{Catalogue, LossModel};

use crate::coast::CoastFit;
use crate::evaluate::Drag;
use crate::gather::{self, Gathered, Logged, ReduceError};
use crate::job::Job;
use crate::source::Source;
use crate::twins::Twins;

pub(crate) fn find_standard(
    job: &Job,
    catalogue: &Catalogue<'_>,
    id: &str,
) -> Result<&'static str, ReduceError> {
    let unknown = || {
        let all: Vec<&str> = catalogue.standards().iter().map(|s| s.card().id).collect();
        let what = if id == job.standard { "basis.standard" } else { "basis.also" };
        ReduceError::Unknown { what, id: id.into(), nearest: nearest(id, &all) }
    };
    let s = catalogue.standard(id).ok_or_else(unknown)?;
    let rating = s.card().rating;
    if rating != fairpull_core::Rating::Either && rating != job.rating && id == job.standard {
        return Err(ReduceError::Refused {
            what: id.into(),
            refusal: fairpull_core::Refusal::RatingDiffers { from: job.rating, to: rating },
        });
    }
    Ok(s.card().id)
}

/// The three ids that share the most beginning letters and letters with what was written.
fn nearest(id: &str, all: &[&str]) -> String {
    let score = |c: &str| {
        let prefix = c.bytes().zip(id.bytes()).take_while(|(a, b)| a == b).count();
        let shared = id.bytes().filter(|b| c.as_bytes().contains(b)).count();
        (3 * prefix + shared) as i64 - (c.len() as i64 - id.len() as i64).abs()
    };
    let mut ranked: Vec<&str> = Vec::new();
    for c in all {
        let place = ranked.iter().position(|r| score(r) < score(c)).unwrap_or(ranked.len());
        ranked.insert(place, c);
        ranked.truncate(3);
    }
    ranked.join(", ")
}

/// Reads every log that is not left out and hands it to `take`.
pub(crate) fn read_all(
    job: &Job,
    read: &mut dyn FnMut(&str) -> Result<Source, String>,
    progress: &mut dyn FnMut(usize, usize) -> bool,
    notices: &mut Vec<String>,
    take: &mut dyn FnMut(Logged) -> Result<(), ReduceError>,
) -> Result<(), ReduceError> {
    let total: usize = job.states.iter().map(|s| s.logs.len()).sum();
    let mut done = 0;
    let mut twins = Twins::default();
    for (s, state) in job.states.iter().enumerate() {
        let mut kept = false;
        for log in &state.logs {
            if let Some(why) = &log.skip {
                notices.push(format!("{} is left out by the job: {why}", log.file));
            } else {
                let source = read(&log.file)
                    .map_err(|problem| ReduceError::File { file: log.file.clone(), problem })?;
                let logged = gather::read(job, s, log, source)?;
                twins.check(&log.file, &logged.prints)?;
                take(logged)?;
                kept = true;
            }
            done += 1;
            if !progress(done, total) {
                return Err(ReduceError::Cancelled);
            }
        }
        if !kept {
            return Err(ReduceError::Log {
                file: job.file.clone(),
                problem: format!("every log of state {:?} is left out", state.name),
                mend: "keep at least one, or remove the state".into(),
            });
        }
    }
    Ok(())
}

/// The loss model of the job with the drag of each pull; a missing coast-down is replaced by the mean of the others,
/// and when there is none at all the measured model gives way to the prior band.
pub(crate) fn choose_loss<'a>(
    job: &Job,
    catalogue: &Catalogue<'a>,
    pulls: &[Gathered],
    notices: &mut Vec<String>,
) -> Result<(&'a dyn LossModel, Vec<Drag>), ReduceError> {
    let wanted = catalogue.loss(&job.loss.model).ok_or_else(|| {
        let all: Vec<&str> = catalogue.losses().iter().map(|s| s.card().id).collect();
        ReduceError::Unknown {
            what: "loss.model",
            id: job.loss.model.clone(),
            nearest: nearest(&job.loss.model, &all),
        }
    })?;
    let own: Vec<&CoastFit> = pulls.iter().filter_map(|p| p.fit.coast.as_ref()).collect();
    let mut model = wanted;
    if job.loss.model == "coast-down" && own.is_empty() {
        model = catalogue.loss("prior-band").ok_or_else(|| ReduceError::Log {
            file: job.file.clone(),
            problem: "no log holds a coast-down, and the catalogue has no prior band to fall back on".into(),
            mend: "record the coast-down after each pull with the clutch open".into(),
        })?;
        notices.push(
            "no log holds a usable coast-down: the loss is taken from a prior band, and the crank figures carry its wide interval. Record the coast-down after each pull with the clutch open.".into(),
        );
    }
    let mean = mean_coast(&own);
    let forces: Vec<[f64; 3]> = pulls.iter().filter_map(|p| p.fit.coast_force).collect();
    let mean_force = (!forces.is_empty()).then(|| {
        let n = forces.len() as f64;
        core::array::from_fn(|i| forces.iter().map(|f| f[i]).sum::<f64>() / n)
    });
    let drags = pulls
        .iter()
        .map(|p| {
            if p.fit.coast.is_some() {
                Drag { coast: p.fit.coast.clone(), force: p.fit.coast_force }
            } else {
                Drag { coast: mean.clone(), force: mean_force }
            }
        })
        .collect();
    if mean.is_some() && model.card().id == "coast-down" {
        let mut whys: Vec<(&str, Vec<&str>)> = Vec::new();
        for p in pulls.iter().filter(|p| p.fit.coast.is_none()) {
            match whys.iter_mut().find(|(why, _)| *why == p.fit.coast_note) {
                Some((_, names)) => names.push(&p.fit.name),
                None => whys.push((p.fit.coast_note, vec![&p.fit.name])),
            }
        }
        notices.extend(whys.iter().map(|(why, names)| {
            let names = names.join(", ");
            format!("{names}: no coast-down of its own ({why}); the mean drag of the other pulls is used")
        }));
    }
    Ok((model, drags))
}

fn mean_coast(all: &[&CoastFit]) -> Option<CoastFit> {
    let first = all.first()?;
    let n = all.len() as f64;
    let mut out = (*first).clone();
    out.k = core::array::from_fn(|i| all.iter().map(|c| c.k[i]).sum::<f64>() / n);
    // one pull's drag differs from the mean by what the others scatter
    let mut covariance = [[0.0; 3]; 3];
    for c in all {
        for i in 0..3 {
            for j in 0..3 {
                covariance[i][j] += ((c.k[i] - out.k[i]) * (c.k[j] - out.k[j]) + c.covariance[i][j]) / n;
            }
        }
    }
    out.covariance = covariance;
    out.prior = core::array::from_fn(|j| {
        core::array::from_fn(|i| all.iter().map(|c| c.prior[j][i]).sum::<f64>() / n)
    });
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_that_resemble() {
        let all = ["iso-1585", "iso-1585-2020", "un-r85", "sae-j1349", "iso-2534", "din-70020"];
        assert_eq!(nearest("iso-1558", &all), "iso-1585, iso-1585-2020, iso-2534");
        assert_eq!(nearest("sae-1349", &all), "sae-j1349, iso-2534, iso-1585");
        assert_eq!(nearest("din70020", &all[5..]), "din-70020");
        assert_eq!(nearest("x", &[]), "");
    }

    /// The drag of a pull without coast-down: the mean of the others, uncertain by their own covariance and their scatter.
    #[test]
    fn the_mean_of_coast_downs() {
        let one = |k: [f64; 3], c: f64, prior: f64| CoastFit {
            k,
            covariance: [[c, 0.0, 0.1 * c], [0.0, 2.0 * c, 0.0], [0.1 * c, 0.0, 3.0 * c]],
            prior: [[prior; 3], [-prior; 3]],
            from: 30.0,
            to: 10.0,
            seconds: 9.0,
            samples: 100,
            residual: 0.01,
        };
        let (a, b) = (one([0.2, 0.01, 3e-4], 0.5, 0.1), one([0.4, 0.03, 5e-4], 1.5, 0.3));
        let m = mean_coast(&[&a, &b]).unwrap();
        let near = |got: f64, expected: f64| assert!((got - expected).abs() < 1e-12, "{got} {expected}");
        m.k.iter().zip([0.3, 0.02, 4e-4]).for_each(|(got, expected)| near(*got, expected));
        near(m.covariance[0][0], 1.0 + 0.01);
        near(m.covariance[0][1], 0.1 * 0.01);
        near(m.covariance[1][1], 2.0 + 1e-4);
        near(m.covariance[0][2], 0.1 + 0.1 * 1e-4);
        near(m.covariance[2][2], 3.0 + 1e-8);
        near(m.prior[0][1], 0.2);
        near(m.prior[1][2], -0.2);
        assert_eq!(mean_coast(&[&a]).unwrap(), a);
        assert!(mean_coast(&[]).is_none());
    }
}
