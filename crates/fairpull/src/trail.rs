//! The trail: every step from recording to figure, with numbers a sceptic can put into a pocket calculator.

use fairpull_core::{Catalogue, StandardCard};
use fairpull_reduction::{Job, Outcome, RigKind, StateOutcome, Worked};
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
    let rig = &job.rig;
    let [fa, fb, fc] = rig.parasitic.map(short);
    let set = format!(
        "J = {} kg·m², R = {} m, m_D = {:.4} kg",
        short(rig.inertia.value),
        short(rig.radius.value),
        w.mass
    );
    let own = format!("A = {fa} N, B = {fb} N·s/m, C = {fc} N·s²/m², F_p = {:.3} N", w.parasitic);
    let (formula, inputs) = match rig.kind {
        RigKind::InertiaRoller => (
            "F = m_D·a + F_p, m_D = J/R², F_p = A + B·v + C·v²",
            format!("{set}, a = {:.6} m/s², {own}", w.a),
        ),
        RigKind::BrakedRoller => (
            "F = m_D·a + F_b + F_p, m_D = J/R², F_p = A + B·v + C·v²",
            format!("{set}, a = {:.6} m/s², F_b = {:.3} N, {own}", w.a, w.brake),
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
    accelerating(&mut out, job, outcome, w);
    if outcome.loss_model == "coast-down" {
        out.push(dragging(job, w));
        out.push(step(
            "crankshaft power, observed: losses are added before any factor",
            "P_crank = (F·v_rim + P_acc + F_drag·v_rim)/(1 − λ)",
            format!(
                "F = {:.3} N, v_rim = {:.5} m/s, P_acc = {:.3} kW, F_drag = {:.3} N, load share λ = {}",
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
        out.push(factor_step("correction factor", card, w, w.factor));
        out.push(step(
            "corrected power of this pull",
            "P = factor·P_crank",
            format!("{:.6} × {:.3} kW", w.factor, w.crank * 1e-3),
            format!("P = {:.3} kW", w.corrected * 1e-3),
            card.designation,
            card.grade().words(),
        ));
    }
    let state = outcome.states.iter().find(|s| s.pulls.iter().any(|p| p.name == w.pull));
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
    if let Some(s) = state {
        out.extend(elsewhere(job, s, w, catalogue));
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

/// What engine and wheels take to turn faster.
fn accelerating(out: &mut Vec<Step>, job: &Job, outcome: &Outcome, w: &Worked) {
    let v = &job.vehicle;
    let (travel, whence) = if outcome.drive.measured {
        (outcome.drive.travel_per_turn / (2.0 * core::f64::consts::PI), "from the recordings")
    } else {
        (v.tyre_radius.value / v.ratio, "r over the ratio of the job")
    };
    out.push(step(
        "rotating mass of the car, referred to the contact",
        "m_rot = n·J_w/r² + (J_g + J_e)/ρ²",
        format!(
            "n = {}, J_w = {} kg·m², r = {} m, J_g = {} kg·m², J_e = {} kg·m², ρ = {travel:.8} m of travel a radian of the engine ({whence})",
            v.driven_wheels,
            short(v.wheel_inertia),
            short(v.tyre_radius.value),
            short(v.gearbox_inertia),
            short(v.engine_inertia.value),
        ),
        format!("m_rot = {:.4} kg", w.rotating),
        MECHANICS,
        DERIVED,
    ));
    let [v1, v2, v3, v4] = w.rims;
    out.push(step(
        "acceleration of the rim, from its speeds at four moments around this point",
        "a_rim = (1 − x)·(v₃ − v₁)/Δ₁ + x·(v₄ − v₂)/Δ₂",
        format!(
            "v₁ = {v1:.8} m/s, v₂ = {v2:.8} m/s, v₃ = {v3:.8} m/s, v₄ = {v4:.8} m/s, Δ₁ = {:.8} s, Δ₂ = {:.8} s, x = {:.5}",
            w.apart[0], w.apart[1], w.between
        ),
        format!("a_rim = {:.5} m/s²", w.rim_acceleration),
        MECHANICS,
        DERIVED,
    ));
    out.push(step(
        "power that accelerates wheels, gearbox and engine",
        "P_acc = m_rot·a_rim·v_rim",
        format!(
            "m_rot = {:.4} kg, a_rim = {:.5} m/s², v_rim = {:.5} m/s",
            w.rotating, w.rim_acceleration, w.rim
        ),
        format!("P_acc = {:.3} kW", w.rotating * w.rim_acceleration * w.rim * 1e-3),
        MECHANICS,
        DERIVED,
    ));
}

/// The force that the coast-down says driveline and tyres take.
fn dragging(job: &Job, w: &Worked) -> Step {
    let [k0, k1, k2] = w.coast;
    let slowing = format!("k₀ = {k0:.8} m/s², k₁ = {k1:.9} 1/s, k₂ = {k2:.11} 1/m, v_rim = {:.5} m/s", w.rim);
    let (formula, inputs) = if job.rig.kind == RigKind::Hub {
        (
            "F_drag = m_open·(k₀ + k₁·v_rim + k₂·v_rim²) − F_h, m_open = n·J_w/r² + J_g/ρ²",
            format!(
                "m_open = {:.4} kg, {slowing}, F_h = {:.3} N read at the hubs meanwhile",
                w.open, w.minus
            ),
        )
    } else {
        (
            "F_drag = (m_D + m_open)·(k₀ + k₁·v_rim + k₂·v_rim²) − F_p, m_open = n·J_w/r² + J_g/ρ²",
            format!(
                "m_D = {:.4} kg, m_open = {:.4} kg, {slowing}, F_p = {:.3} N at v_rim",
                w.mass, w.open, w.minus
            ),
        )
    };
    let source = if w.own_coast {
        "least squares of the integrated equation of motion over the coast-down"
    } else {
        "mean of the coast-downs of the other pulls"
    };
    let output = format!("F_drag = {:.3} N", w.drag);
    step("drag of driveline and tyres, from the coast-down", formula, inputs, output, source, DERIVED)
}

/// A factor in the air of the pull.
fn factor_step(what: &str, card: &StandardCard, w: &Worked, factor: f64) -> Step {
    let wanted = |words: &str| ["factor", "formula", "exponent"].iter().any(|k| words.contains(k));
    let source = card.sources.iter().find(|s| wanted(s.what)).or(card.sources.first());
    step(
        what,
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
        format!("factor = {factor:.6}"),
        &source.map_or_else(String::new, |s| s.cite.to_string()),
        source.map_or("", |s| s.cite.reading.words()),
    )
}

/// The peak of the state on the other standards: what each makes of the same observed power.
fn elsewhere(job: &Job, s: &StateOutcome, w: &Worked, catalogue: &Catalogue<'_>) -> Vec<Step> {
    let mut out = Vec::new();
    let Some(pull) = s.pulls.iter().find(|p| p.name == w.pull) else { return out };
    for r in &s.restated {
        let (Some(other), Ok((_, peak))) = (catalogue.standard(&r.standard), &r.figure) else { continue };
        let card = other.card();
        let Ok(factor) = other.factor(&pull.air.air, &job.vehicle.engine) else { continue };
        let what = format!("correction factor of {} for this pull", card.designation);
        out.push(factor_step(&what, card, w, factor.value()));
        let (here, there) = (s.peak_power.value.value, peak.value);
        out.push(step(
            &format!("peak of state {:?} on {}", s.name, card.designation),
            "P' = P·mean(factor'/factor)",
            format!(
                "P = {:.3} kW, mean over {} pulls: {:.6}, for this pull {:.6}/{:.6}",
                here * 1e-3,
                s.pulls.len(),
                there / here,
                factor.value(),
                w.factor
            ),
            format!("P' = {:.3} kW", there * 1e-3),
            card.designation,
            card.grade().words(),
        ));
    }
    out
}

/// A stated value without the noise of its unit.
fn short(x: f64) -> String {
    let text = format!("{x:.8}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
