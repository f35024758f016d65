//! One state and its pulls for reading.

use fairpull_core::Catalogue;
use fairpull_reduction::{Part, StateOutcome};
use fairpull_report::model::{
    BudgetLine, ChannelStat, CurvePoint, Peak, Pull, Repair, Restated, Soak, State,
};

use crate::reading_unit::{by, reading_unit};

pub(crate) fn state(s: &StateOutcome, catalogue: &Catalogue<'_>) -> State {
    let rad = core::f64::consts::PI / 30.0;
    let total: f64 = s.budget.iter().map(|b| b.relative * b.relative).sum();
    State {
        name: s.name.clone(),
        fuel: s.fuel.clone(),
        pulls: s.pulls.iter().map(pull).collect(),
        curve: s
            .curve
            .iter()
            .map(|p| CurvePoint {
                engine_speed_rpm: p.rpm,
                crank_power_kw: by(&p.power, 1e-3),
                crank_power_band_kw: by(&p.band, 1e-3),
                crank_torque_nm: by(&p.power, 1.0 / (p.rpm * rad)),
                wheel_power_kw: by(&p.wheel, 1e-3),
                pulls: p.pulls,
            })
            .collect(),
        peak_power: Peak {
            value: by(&s.peak_power.value, 1e-3),
            engine_speed_rpm: s.peak_power.rpm,
            at_edge: s.peak_power.at_edge,
        },
        peak_torque: Peak {
            value: by(&s.peak_torque.value, 1.0),
            engine_speed_rpm: s.peak_torque.rpm,
            at_edge: s.peak_torque.at_edge,
        },
        restated: s
            .restated
            .iter()
            .map(|r| Restated {
                standard: r.standard.clone(),
                designation: catalogue
                    .standard(&r.standard)
                    .map_or_else(|| r.standard.clone(), |s| s.card().designation.into()),
                status: match (&r.figure, r.outside) {
                    (Err(_), _) => "not-applicable",
                    (Ok(_), true) => "outside",
                    (Ok(_), false) if no_range(catalogue, &r.standard) => "no-range-known",
                    (Ok(_), false) => "within",
                }
                .into(),
                factor: r.figure.as_ref().ok().map(|f| f.0),
                peak_power_kw: r.figure.as_ref().ok().map(|f| by(&f.1, 1e-3)),
                why: match &r.figure {
                    Err(why) => why.clone(),
                    Ok(_) => r.notes.join("; "),
                },
            })
            .collect(),
        repeatability_percent: 100.0 * s.repeatability.0,
        soak: s.soak.map(|k| Soak {
            percent_per_pull: by(&k.per_pull, 100.0),
            first_to_last_percent: 100.0 * k.first_to_last,
            statement: soak_words(&k),
        }),
        budget: s
            .budget
            .iter()
            .map(|b| BudgetLine {
                source: b.source.into(),
                part: match b.part {
                    Part::Run => "run",
                    Part::Rig => "rig",
                    Part::Method => "method",
                }
                .into(),
                input: b.input.clone(),
                percent: 100.0 * b.relative,
                share_percent: if total > 0.0 { 100.0 * b.relative * b.relative / total } else { 0.0 },
                remedy: b.remedy.into(),
            })
            .collect(),
        channels: s
            .channels
            .iter()
            .map(|c| {
                let u = reading_unit(c.role);
                ChannelStat {
                    role: c.role.id().into(),
                    name: c.role.words().into(),
                    unit: u.word.into(),
                    mean: u.value(&c.mean),
                    at_peak_power: c.at_peak.value.is_finite().then(|| u.value(&c.at_peak)),
                    smallest: u.one(c.extremes.0),
                    largest: u.one(c.extremes.1),
                    curve: c.curve.iter().map(|v| v.is_finite().then(|| u.one(*v))).collect(),
                }
            })
            .collect(),
        stress: Vec::new(),
        margins: Vec::new(),
    }
}

/// The card knows no range at all, so "within" would say too much.
fn no_range(catalogue: &Catalogue<'_>, id: &str) -> bool {
    catalogue.standard(id).is_some_and(|s| {
        let c = s.card();
        [c.spark, c.compression]
            .iter()
            .all(|w| w.temperature.is_none() && w.pressure.is_none() && w.factor.is_none())
    })
}

fn soak_words(k: &fairpull_reduction::SoakOutcome) -> String {
    let (low, high) = (100.0 * k.per_pull.low, 100.0 * k.per_pull.high);
    let trend = if low > 0.0 || high < 0.0 {
        format!("power changes by {:+.2} % a pull ({low:+.2} to {high:+.2} %)", 100.0 * k.per_pull.value)
    } else {
        format!("no trend over the pulls can be told from scatter ({low:+.2} to {high:+.2} % a pull)")
    };
    if k.in_kelvin {
        format!(
            "{trend}; heat left by earlier pulls raises the charge by {:.1} K at the last pull, worth {:+.2} %",
            k.heat,
            100.0 * k.first_to_last
        )
    } else {
        trend
    }
}

fn pull(p: &fairpull_reduction::PullOutcome) -> Pull {
    Pull {
        name: p.name.clone(),
        file: p.file.clone(),
        start_s: p.start,
        duration_s: p.seconds,
        samples: p.samples,
        from_rpm: p.reach.0,
        to_rpm: p.reach.1,
        station_pressure_kpa: p.air.air.station().kilopascals(),
        temperature_c: p.air.air.temperature().celsius(),
        humidity_percent: 100.0 * p.air.humidity,
        vapour_pressure_kpa: p.air.air.vapour().kilopascals(),
        factor: p.factor,
        blind_factor: p.blind,
        factor_notes: p.factor_notes.clone(),
        peak_power_kw: p.peak.0 * 1e-3,
        peak_power_rpm: p.peak.1,
        level_percent: 100.0 * p.level,
        loss_kw: p.loss * 1e-3,
        coast_down: p.coast.clone(),
        repairs: p
            .repairs
            .iter()
            .map(|(what, count, line)| Repair { what: what.clone(), count: *count, first_line: *line })
            .collect(),
        flags: p.flags.clone(),
        curve_kw: p.curve.iter().map(|w| w.is_finite().then(|| w * 1e-3)).collect(),
    }
}
