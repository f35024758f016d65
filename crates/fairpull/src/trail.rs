//! The trail: every step from recording to figure, with numbers a sceptic can put into a pocket calculator.

use fairpull_core::Catalogue;
use fairpull_reduction::{Job, Outcome, RigKind};
use fairpull_report::model::Step;

fn step(what: &str, formula: &str, inputs: String, output: String, source: &str, reading: &str) -> Step {
    Step {
        what: what.into(),
        formula: formula.into(),
        inputs,
        output,
        source: source.into(),
        reading: reading.into(),
    }
}

const MECHANICS: &str = "elementary mechanics";
const DERIVED: &str = "exact or derived";

/// Steps of one worked point and of the statistics behind the curve.
pub(crate) fn trail(job: &Job, outcome: &Outcome, catalogue: &Catalogue<'_>) -> Vec<Step> {
    let mut out = Vec::new();
    let Some(w) = &outcome.worked else { return out };
    let where_ = format!("{} at {:.0} 1/min", w.pull, w.rpm);
    out.push(step(
        &format!("speed and acceleration of the roller ({where_})"),
        "penalised quartic spline through the speed readings, smoothness by restricted maximum likelihood",
        format!(
            "{} readings in the pull",
            outcome.states.iter().flat_map(|s| &s.pulls).find(|p| p.name == w.pull).map_or(0, |p| p.samples)
        ),
        format!("v = {:.5} m/s, a = {:.6} m/s²", w.v, w.a),
        "Eilers and Marx, Statist. Sci. 11 (1996); Wood, J. R. Statist. Soc. B 73 (2011)",
        "from memory, believed right",
    ));
    let (formula, inputs) = match job.rig.kind {
        RigKind::InertiaRoller => (
            "F = m_D·a + F_p, m_D = J/R²",
            format!("m_D = {:.4} kg, a = {:.6} m/s², F_p = {:.3} N", w.mass, w.a, w.parasitic),
        ),
        RigKind::BrakedRoller => (
            "F = m_D·a + F_b + F_p, m_D = J/R²",
            format!(
                "m_D = {:.4} kg, a = {:.6} m/s², F_b = {:.3} N, F_p = {:.3} N",
                w.mass, w.a, w.brake, w.parasitic
            ),
        ),
        RigKind::Hub => ("F = T/r", format!("T/r = {:.3} N", w.brake)),
    };
    out.push(step(
        "force at the contact",
        formula,
        inputs,
        format!("F = {:.3} N", w.contact),
        MECHANICS,
        DERIVED,
    ));
    out.push(step(
        "observed power at the measuring point",
        "P_wheel = F·v",
        format!("F = {:.3} N, v = {:.5} m/s", w.contact, w.v),
        format!("P_wheel = {:.3} kW", w.wheel * 1e-3),
        MECHANICS,
        DERIVED,
    ));
    if job.rig.kind != RigKind::Hub {
        out.push(step(
            "rim speed of the tyre, which slips against the roller",
            "v_rim = v/(1 − κ·F)",
            format!(
                "v = {:.5} m/s, κ = {:.5} % per kN, F = {:.3} N",
                w.v,
                100.0 * outcome.drive.slip_per_kilonewton,
                w.contact
            ),
            format!("v_rim = {:.5} m/s", w.rim),
            "ratio of engine speed to roller speed against contact force, least squares over all pulls",
            DERIVED,
        ));
    }
    let loss = catalogue.loss(outcome.loss_model);
    if outcome.loss_model == "coast-down" {
        out.push(step(
            "power that accelerates wheels, gearbox and engine",
            "P_acc = m_rot·a_rim·v_rim",
            format!(
                "m_rot = {:.4} kg, a_rim = {:.6} m/s², v_rim = {:.5} m/s",
                w.rotating, w.rim_acceleration, w.rim
            ),
            format!("P_acc = {:.3} kW", w.rotating * w.rim_acceleration * w.rim * 1e-3),
            MECHANICS,
            DERIVED,
        ));
        out.push(step(
            "crankshaft power, observed: losses are added before any factor",
            "P_crank = (F·v_rim + P_acc + F_drag·v_rim)/(1 − λ)",
            format!(
                "F = {:.3} N, v_rim = {:.5} m/s, P_acc = {:.3} kW, F_drag = {:.3} N at v_rim from the coast-down, load share λ = {}",
                w.contact,
                w.rim,
                w.rotating * w.rim_acceleration * w.rim * 1e-3,
                w.drag,
                if w.share.is_finite() { format!("{}", w.share) } else { "0.025 (assumed)".into() }
            ),
            format!("P_crank = {:.3} kW", w.crank * 1e-3),
            &loss.and_then(|l| l.card().sources.first()).map_or_else(String::new, |s| s.cite.to_string()),
            if w.share.is_finite() { DERIVED } else { loss.map_or("", |l| l.card().grade().words()) },
        ));
    } else {
        out.push(step(
            "crankshaft power, observed: losses are added before any factor",
            loss.map_or("", |l| l.card().formula),
            format!(
                "power at the rim F·v_rim = {:.3} kW, power that accelerates rotating parts {:.3} kW, P_wheel = {:.3} kW",
                w.contact * w.rim * 1e-3,
                w.rotating * w.rim_acceleration * w.rim * 1e-3,
                w.handed * 1e-3
            ),
            format!("P_crank = {:.3} kW", w.crank * 1e-3),
            &loss.and_then(|l| l.card().sources.first()).map_or_else(String::new, |s| s.cite.to_string()),
            loss.map_or("", |l| l.card().grade().words()),
        ));
    }
    if let Some(s) = catalogue.standard(&job.standard) {
        let card = s.card();
        let wanted = |words: &str| ["factor", "formula", "exponent"].iter().any(|k| words.contains(k));
        let source = card.sources.iter().find(|s| wanted(s.what)).or(card.sources.first());
        out.push(step(
            "correction factor",
            card.formula,
            format!(
                "total {:.4} kPa, vapour {:.4} kPa, dry {:.4} kPa, t = {:.3} °C, T = t + {} = {:.3} K",
                w.total_kpa,
                w.vapour_kpa,
                w.total_kpa - w.vapour_kpa,
                w.temperature_c,
                card.reference.kelvin_offset,
                w.temperature_c + card.reference.kelvin_offset
            ),
            format!("factor = {:.6}", w.factor),
            &source.map_or_else(String::new, |s| s.cite.to_string()),
            source.map_or("", |s| s.cite.reading.words()),
        ));
        out.push(step(
            "corrected power of this pull",
            "P = factor·P_crank",
            format!("{:.6} × {:.3} kW", w.factor, w.crank * 1e-3),
            format!("P = {:.3} kW", w.corrected * 1e-3),
            card.designation,
            card.grade().words(),
        ));
    }
    for s in &outcome.states {
        out.push(step(
            &format!("curve of state {:?}", s.name),
            "exp(mean level + mean shape) of its pulls; level and shape scatter pooled over all states",
            format!(
                "{} pulls, standard deviation of a level {:.3} % on {:.1} degrees of freedom",
                s.pulls.len(),
                100.0 * s.repeatability.0,
                s.repeatability.1
            ),
            format!("peak {:.2} kW at {:.0} 1/min", s.peak_power.value.value * 1e-3, s.peak_power.rpm),
            "JCGM 100:2008, 4.2, 5.1, G.4; Monte Carlo beside it JCGM 101:2008",
            "corroborated by an independent publication",
        ));
    }
    for c in &outcome.comparisons {
        out.push(step(
            "mean change between the states",
            "difference of the mean log levels at equal heat; what the rig shares cancels",
            format!("heat part taken out {:+.3} %", 100.0 * c.soak_removed),
            format!(
                "{:+.2} % ({:+.2} to {:+.2} %), smallest detectable {:.2} %",
                100.0 * c.mean.value,
                100.0 * c.mean.low,
                100.0 * c.mean.high,
                100.0 * c.smallest_detectable
            ),
            "Student's t at 5 % two-sided; power 80 % by the non-central t",
            DERIVED,
        ));
    }
    out
}
