//! An outcome in SI units to the result model in units for reading.

use fairpull_core::Catalogue;
use fairpull_reduction::{Job, Outcome, RigKind};
use fairpull_report::model::{Basis, Fact, ResultModel, SCHEMA, State, Units};

use crate::cards::reference;
use crate::costing;
use crate::factors::status_words;
use crate::present_change::comparison;
use crate::present_state::state;
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
            loss_title.to_ascii_lowercase()
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
