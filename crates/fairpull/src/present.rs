//! An outcome in SI units to the result model in units for reading.

use fairpull_core::Catalogue;
use fairpull_recordings::Role;
use fairpull_reduction::{Bounded, Job, Outcome, RigKind, StateOutcome, Verdict};
use fairpull_report::model::{
    Basis, BudgetLine, ChannelChange, ChannelStat, Comparison, CurvePoint, Fact, GainPoint, Interval, Peak,
    Pull, Repair, Restated, ResultModel, SCHEMA, Soak, State, Units,
};

use crate::cards::reference;
use crate::costing;
use crate::factors::status_words;
use crate::trail;

/// The usual cautions of the work.
pub const CAUTIONS: [&str; 5] = [
    "Rolling road: strap the car to rated anchor points, guard rotating parts, keep everyone out of the line of the tyres, and use tyres fit for the speed.",
    "Exhaust gas kills: extract it, ventilate the room and watch carbon monoxide. Hot exhaust and turbine parts burn.",
    "Fuel and its vapour ignite: keep extinguishers at hand and ignition sources away.",
    "Knock can destroy an engine in seconds: measure it, and stop at the first sign. No calculated margin replaces that.",
    "Work to the local codes and have it done by licensed practice; road tests belong on a closed road.",
];

/// The result model of an outcome.
#[must_use]
pub fn present(job: &Job, outcome: &Outcome, catalogue: &Catalogue<'_>) -> ResultModel {
    let card = catalogue.standard(&job.standard).map(|s| s.card());
    let designation = card.map_or_else(|| job.standard.clone(), |c| c.designation.into());
    let loss_title = catalogue
        .loss(outcome.loss_model)
        .map_or_else(|| outcome.loss_model.into(), |l| l.card().title.to_owned());
    let basis = Basis {
        site: "crank".into(),
        standard: job.standard.clone(),
        rating: job.rating.to_string(),
        status: card.map_or_else(String::new, |c| status_words(c.status)),
        reference: card.map_or_else(String::new, reference),
        reading: card.map_or_else(String::new, |c| c.grade().words().into()),
        statement: format!(
            "Power and torque at the crankshaft, {}, corrected to {designation} ({}); wheel to crankshaft by: {}.",
            job.rating,
            card.map_or_else(String::new, reference),
            loss_title.to_lowercase()
        ),
        loss_model: loss_title,
        designation,
    };
    let mut seen = Vec::new();
    ResultModel {
        schema: SCHEMA.into(),
        program: concat!("fairpull ", env!("CARGO_PKG_VERSION")).into(),
        title: job.title.clone(),
        note: job.note.clone(),
        job: job.file.clone(),
        vehicle: vehicle(job),
        rig: rig(job, outcome),
        basis,
        units: Units {
            power: job.power_units.iter().map(|u| (*u).into()).collect(),
            torque: job.torque_units.iter().map(|u| (*u).into()).collect(),
        },
        states: outcome
            .states
            .iter()
            .enumerate()
            .map(|(i, s)| State {
                stress: costing::stress(job, s),
                margins: costing::margins(job, outcome, i, catalogue),
                ..state(s, catalogue)
            })
            .collect(),
        comparisons: outcome
            .comparisons
            .iter()
            .map(|c| {
                let mut shown = comparison(c, outcome);
                shown.stress = costing::changes(job, c, outcome);
                shown.cost = costing::line(c, &shown.channels);
                shown
            })
            .collect(),
        trail: trail::trail(job, outcome, catalogue),
        notices: outcome.notices.iter().filter(|n| new(&mut seen, n)).cloned().collect(),
        cautions: CAUTIONS.iter().map(|c| (*c).into()).collect(),
        seed: outcome.seed,
    }
}

fn new(seen: &mut Vec<String>, n: &str) -> bool {
    let fresh = !seen.iter().any(|s| s == n);
    if fresh {
        seen.push(n.to_owned());
    }
    fresh
}

fn fact(label: &str, value: impl Into<String>) -> Fact {
    Fact { label: label.into(), value: value.into() }
}

fn vehicle(job: &Job) -> Vec<Fact> {
    use fairpull_core::{ChargeCooling, Charging, Ignition};
    let v = &job.vehicle;
    let e = &v.engine;
    let kind = format!(
        "{}, {}{}",
        match e.ignition {
            Ignition::Spark => "spark ignition",
            Ignition::Compression => "compression ignition",
        },
        match e.charging {
            Charging::None => "naturally aspirated",
            Charging::Supercharged => "supercharged",
            Charging::Turbocharged => "turbocharged",
        },
        match e.charge_cooling {
            ChargeCooling::None => "",
            ChargeCooling::Air => ", charge air cooled by air",
            ChargeCooling::Liquid => ", charge air cooled by liquid",
        }
    );
    let mut out = vec![fact("Vehicle", v.name.clone()), fact("Engine", kind)];
    if let Some(d) = v.displacement {
        let cylinders = v.cylinders.map_or(String::new(), |c| format!(", {c} cylinders"));
        out.push(fact("Displacement", format!("{:.0} cm³{cylinders}", d * 1e6)));
    }
    if e.charging != Charging::None {
        let words = if e.ambient_compensated {
            "compensates for the ambient (factor 1 where the text allows it)"
        } else {
            "not stated to compensate for the ambient"
        };
        out.push(fact("Control", words));
    }
    out.push(fact("Gear used", format!("{} engine turns a wheel turn", v.ratio)));
    out.push(fact(
        "Inertia",
        format!(
            "engine {} kg·m² (± {} % standard), gearbox {} kg·m² at the engine, {} driven wheels of {} kg·m²",
            v.engine_inertia.value,
            tidy(100.0 * v.engine_inertia.relative),
            v.gearbox_inertia,
            v.driven_wheels,
            v.wheel_inertia
        ),
    ));
    out
}

fn tidy(x: f64) -> f64 {
    libm::round(x * 1e6) / 1e6
}

fn rig(job: &Job, outcome: &Outcome) -> Vec<Fact> {
    let r = &job.rig;
    let mut out = vec![fact(
        "Rig",
        match r.kind {
            RigKind::InertiaRoller => "inertia roller",
            RigKind::BrakedRoller => "roller with brake and force cell",
            RigKind::Hub => "brakes at the hubs with torque sensors",
        },
    )];
    if let Some(name) = &r.name {
        out.push(fact("Name", name.clone()));
    }
    if r.kind != RigKind::Hub {
        out.push(fact(
            "Roller",
            format!(
                "inertia {} kg·m² (± {} % standard), radius {} mm",
                r.inertia.value,
                tidy(100.0 * r.inertia.relative),
                tidy(1000.0 * r.radius.value)
            ),
        ));
    }
    if r.kind != RigKind::InertiaRoller {
        out.push(fact("Force reading", format!("± {} % standard", tidy(100.0 * r.force))));
    }
    out.push(fact(
        "Weather station",
        format!(
            "± {} hPa, ± {} K, ± {} % humidity (standard)",
            tidy(job.pressure_u / 100.0),
            tidy(job.temperature_u),
            tidy(100.0 * job.humidity_u)
        ),
    ));
    let d = &outcome.drive;
    let how = if d.measured { "from the recordings" } else { "from the job, slip assumed" };
    out.push(fact(
        "Ratio and slip",
        format!(
            "{:.4} m of roller an engine turn, slip {:.2} % per kN ({how}); engine-speed channel {:.0} ms late",
            d.travel_per_turn,
            100.0 * d.slip_per_kilonewton,
            1000.0 * d.delay
        ),
    ));
    out
}

fn by(b: &Bounded, factor: f64) -> Interval {
    let (x, y) = (b.low * factor, b.high * factor);
    Interval { value: b.value * factor, lo95: x.min(y), hi95: x.max(y) }
}

fn state(s: &StateOutcome, catalogue: &Catalogue<'_>) -> State {
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
                part: if b.rig { "rig" } else { "run" }.into(),
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
                    at_peak_power: u.value(&c.at_peak),
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

fn comparison(c: &fairpull_reduction::ComparisonOutcome, outcome: &Outcome) -> Comparison {
    let name = |i: usize| outcome.states.get(i).map_or_else(String::new, |s| s.name.clone());
    let verdict = match c.verdict {
        Verdict::Gain => "gain",
        Verdict::Loss => "loss",
        Verdict::NoDetectableChange => "no-detectable-change",
    };
    Comparison {
        from: name(c.from),
        to: name(c.to),
        curve: c
            .curve
            .iter()
            .map(|(rpm, g, b)| GainPoint {
                engine_speed_rpm: *rpm,
                gain_percent: by(g, 100.0),
                gain_band_percent: by(b, 100.0),
            })
            .collect(),
        band_rpm: [outcome.band.0, outcome.band.1],
        mean_gain_percent: by(&c.mean, 100.0),
        mean_gain_kw: by(&c.mean_watts, 1e-3),
        peak_gain_percent: by(&c.peak, 100.0),
        peak_gain_kw: by(&c.peak_watts, 1e-3),
        smallest_detectable_percent: 100.0 * c.smallest_detectable,
        verdict: verdict.into(),
        statement: statement(c, outcome),
        within_percent: 100.0 * c.within,
        more_pulls: c.more_pulls,
        remarks: c.remarks.clone(),
        channels: c
            .channels
            .iter()
            .map(|(role, from, to, change)| {
                let u = reading_unit(*role);
                let i = u.difference(change);
                ChannelChange {
                    role: role.id().into(),
                    name: role.words().into(),
                    unit: u.word.into(),
                    from: u.one(*from),
                    to: u.one(*to),
                    detectable: i.lo95 > 0.0 || i.hi95 < 0.0,
                    change: i,
                }
            })
            .collect(),
        stress: Vec::new(),
        cost: String::new(),
    }
}

fn statement(c: &fairpull_reduction::ComparisonOutcome, outcome: &Outcome) -> String {
    let mean = &c.mean;
    let half = 50.0 * (mean.high - mean.low);
    let range = format!("{:.0} to {:.0} 1/min", outcome.band.0, outcome.band.1);
    // what the job leaves open stands in the same sentence as the figure
    let open = c.if_compensated.map_or(String::new(), |g| {
        format!(", provided that the factor applies; {:+.1} % if the engine's control compensates for the ambient by itself", 100.0 * g)
    });
    match c.verdict {
        Verdict::Gain => format!(
            "A gain of {:.1} ± {half:.1} % on average from {range} (95 % interval {:.1} to {:.1} %){open}.",
            100.0 * mean.value,
            100.0 * mean.low,
            100.0 * mean.high
        ),
        Verdict::Loss => format!(
            "A loss of {:.1} ± {half:.1} % on average from {range} (95 % interval {:.1} to {:.1} %){open}.",
            -100.0 * mean.value,
            -100.0 * mean.high,
            -100.0 * mean.low
        ),
        Verdict::NoDetectableChange => {
            let more = c.more_pulls.map_or(String::new(), |n| {
                format!(" If the change is as large as it looks, about {n} more pulls a state would show it.")
            });
            format!(
                "No detectable change: {:+.1} ± {half:.1} % on average from {range}; this job would detect {:.1} % or more. With 95 % confidence the change lies within ± {:.1} %.{more}",
                100.0 * mean.value,
                100.0 * c.smallest_detectable,
                100.0 * c.within
            )
        }
    }
}

/// Unit a channel is read in: value = SI · by − minus.
struct ReadingUnit {
    word: &'static str,
    by: f64,
    minus: f64,
}

impl ReadingUnit {
    fn one(&self, si: f64) -> f64 {
        si * self.by - self.minus
    }

    fn value(&self, b: &Bounded) -> Interval {
        let known = b.low.is_finite() && b.high.is_finite();
        let v = self.one(b.value);
        Interval {
            value: v,
            lo95: if known { self.one(b.low) } else { v },
            hi95: if known { self.one(b.high) } else { v },
        }
    }

    /// A difference has no zero to move. Without an interval it spans everything, so nothing is called detectable.
    fn difference(&self, b: &Bounded) -> Interval {
        let known = b.low.is_finite() && b.high.is_finite();
        let v = b.value * self.by;
        let wide = 10.0 * v.abs() + self.by;
        Interval {
            value: v,
            lo95: if known { b.low * self.by } else { v - wide },
            hi95: if known { b.high * self.by } else { v + wide },
        }
    }
}

fn reading_unit(role: Role) -> ReadingUnit {
    use fairpull_units::Dimension as D;
    let (word, by, minus) = match role.dimension() {
        D::Pressure => ("kPa", 1e-3, 0.0),
        D::Temperature => ("°C", 1.0, 273.15),
        D::Angle => ("°", 180.0 / core::f64::consts::PI, 0.0),
        D::MassFlow => ("g/s", 1e3, 0.0),
        D::VolumeFlow => ("cm³/min", 6e7, 0.0),
        D::Speed => ("km/h", 3.6, 0.0),
        D::RotationalSpeed => ("1/min", 30.0 / core::f64::consts::PI, 0.0),
        D::Voltage => ("V", 1.0, 0.0),
        D::Acceleration => ("m/s²", 1.0, 0.0),
        D::Length => ("m", 1.0, 0.0),
        D::Force => ("N", 1.0, 0.0),
        D::Torque => ("N·m", 1.0, 0.0),
        D::Ratio if matches!(role, Role::Lambda | Role::Gear) => ("", 1.0, 0.0),
        D::Ratio => ("%", 100.0, 0.0),
        _ => ("", 1.0, 0.0),
    };
    ReadingUnit { word, by, minus }
}
