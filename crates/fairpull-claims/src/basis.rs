//! Checks on the basis: which horsepower, which site, which standard, which day; loss and gain; fuel.

use crate::check::{Check, NotRun, Outcome};
use crate::claim::{Claim, Value};
use fairpull_core::{Catalogue, Charging, Cite, Engine, Ignition, KnockPoint, PowerAtWheels, Reading, Span};
use fairpull_core::{DrivePoint, Driveline};
use fairpull_restate::{Figure, Knowledge, Restater, Site, Target};
use fairpull_uncertainty::smallest_detectable;

const HORSEPOWER: Cite =
    Cite::new("mechanical horsepower over metric horsepower", "definitions", Reading::Derived);
const STATEMENT: Cite =
    Cite::new("site, treatment and air of a power figure", "definition", Reading::Derived);
const IDENTITY: Cite = Cite::new("wheel power below crank power", "conservation of energy", Reading::Derived);
const DETECT: Cite =
    Cite::new("t test of two groups, 5 % two-sided, power 80 %", "non-central t", Reading::Derived);
const ASSUMED: Cite =
    Cite::new("repeatability of a chassis dynamometer", "assumed 1 %, no source", Reading::Doubtful);

pub(crate) fn checks(claim: &Claim, restater: &Restater<'_>, out: &mut Vec<Check>, not: &mut Vec<NotRun>) {
    let catalogue = restater.catalogue();
    horsepower(claim, out);
    basis(claim, restater, out, not);
    loss(claim, catalogue, out, not);
    gain(claim, out, not);
    knock(claim, catalogue, out, not);
}

fn horsepower(claim: &Claim, out: &mut Vec<Check>) {
    let Some(Value::Quantity { text, si, unit, .. }) = claim.get("engine", "power") else { return };
    if unit.symbol() != "hp" {
        return;
    }
    let metric = si / 745.699_871_582_270_22 * 735.498_75;
    out.push(
        Check::new("horsepower", "which horsepower", si / 1000.0, "kW", HORSEPOWER)
            .with("power as mechanical horsepower", si / 1000.0, "kW")
            .with("the same number as metric horsepower", metric / 1000.0, "kW")
            .bounds(Some(metric / 1000.0), Some(si / 1000.0))
            .decide(
                Outcome::CannotTell,
                HORSEPOWER,
                format!("\"{text}\" was read as mechanical horsepower; brochures also print metric horsepower as hp, which is 1.4 % less"),
            ),
    );
}

fn engine(claim: &Claim) -> Engine {
    let ignition = match claim.word("engine", "ignition") {
        Some("compression") => Ignition::Compression,
        _ => Ignition::Spark,
    };
    let charging = match claim.word("engine", "charging") {
        Some("turbocharged") => Charging::Turbocharged,
        Some("supercharged") => Charging::Supercharged,
        _ => Charging::None,
    };
    Engine::new(ignition, charging)
}

/// The claim as a figure, in W.
fn figure(claim: &Claim) -> Option<Figure> {
    let Value::Quantity { si, unit, .. } = claim.get("engine", "power")? else { return None };
    let mut f = Figure::new(unit.from_si(*si), unit)?;
    f = match claim.word("engine", "site") {
        Some("wheel") => f.at(Site::Wheel),
        Some("hub") => f.at(Site::Hub),
        Some(_) => f.at(Site::Crank),
        None => f,
    };
    f = match claim.word("engine", "standard") {
        Some("observed") => f.observed(),
        Some(id) => f.corrected(id),
        None => f,
    };
    Some(f)
}

fn basis(claim: &Claim, restater: &Restater<'_>, out: &mut Vec<Check>, not: &mut Vec<NotRun>) {
    let Some(given) = figure(claim) else {
        not.push(NotRun { id: "basis", needs: "engine.power".to_owned() });
        return;
    };
    let stated = given.site.is_some() && given.treatment.is_some();
    let mut knowledge = Knowledge::new();
    knowledge.engine = Some(engine(claim));
    knowledge.draws = 512;
    let restated = restater.restate(&given, &Target::observed_at_crank(), &knowledge);
    let kw = |x: f64| given.unit.to_si(x) / 1000.0;
    match restated {
        Ok(r) => {
            let outcome = if stated { Outcome::Consistent } else { Outcome::CannotTell };
            let missing: Vec<&str> =
                [("site", given.site.is_none()), ("standard", given.treatment.is_none())]
                    .iter()
                    .filter(|m| m.1)
                    .map(|m| m.0)
                    .collect();
            let place = if stated {
                format!(
                    "site and standard are stated; over the air that the standard permits the same engine shows {:.1} to {:.1} kW at the crankshaft",
                    kw(r.lo95),
                    kw(r.hi95)
                )
            } else {
                format!(
                    "{} not stated: the same words can mean {:.1} to {:.1} kW observed at the crankshaft",
                    missing.join(" and "),
                    kw(r.lo95),
                    kw(r.hi95)
                )
            };
            out.push(
                Check::new(
                    "basis",
                    "what the figure is worth as observed at the crankshaft",
                    kw(r.value),
                    "kW",
                    STATEMENT,
                )
                .with("power as claimed", kw(given.value), "kW")
                .bounds(Some(kw(r.lo95)), Some(kw(r.hi95)))
                .decide(outcome, STATEMENT, place),
            );
        }
        Err(e) => not.push(NotRun { id: "basis", needs: e.to_string() }),
    }
}

fn loss(claim: &Claim, catalogue: &Catalogue<'_>, out: &mut Vec<Check>, not: &mut Vec<NotRun>) {
    let (Some(wheel), Some(crank)) = (claim.si("engine", "wheel_power"), claim.si("engine", "power")) else {
        not.push(NotRun {
            id: "loss",
            needs: "engine.power at the crankshaft and engine.wheel_power".to_owned(),
        });
        return;
    };
    if claim.word("engine", "site").is_some_and(|s| s != "crank") {
        not.push(NotRun { id: "loss", needs: "engine.power stated at the crankshaft".to_owned() });
        return;
    }
    let share = 100.0 * (1.0 - wheel / crank);
    let check =
        Check::new("loss", "share of crank power lost on the way to the wheels", share, "%", IDENTITY)
            .with("crank power", crank / 1000.0, "kW")
            .with("wheel power", wheel / 1000.0, "kW");
    if wheel >= crank {
        out.push(check.bounds(Some(0.0), None).decide(
            Outcome::Contradicted,
            IDENTITY,
            "more power at the wheels than at the crankshaft".to_owned(),
        ));
        return;
    }
    let model = catalogue.losses().iter().find(|l| l.card().needs.is_empty() && !l.card().habit);
    let answer = model.map(|m| {
        let at = m.to_crank(PowerAtWheels::from_watts(wheel), &DrivePoint::unknown(), &Driveline::unknown());
        (m.card(), at)
    });
    match answer {
        Some((card, Ok(at))) => {
            // A band with flat ends: half width is √3 standard uncertainties.
            let half = libm::sqrt(3.0) * at.uncertainty;
            let bound = |w: f64| 100.0 * (1.0 - wheel / w);
            let (low, high) = (bound(at.power.watts() - half), bound(at.power.watts() + half));
            let outcome =
                if (low..=high).contains(&share) { Outcome::Consistent } else { Outcome::Contradicted };
            let mut check = check.bounds(Some(low), Some(high)).decide(
                outcome,
                card.cite(),
                format!("band of the loss model {}", card.id),
            );
            check.source = card.cite().to_string();
            check.grade = card.grade().words();
            out.push(check);
        }
        Some((_, Err(e))) => not.push(NotRun { id: "loss", needs: e.to_string() }),
        None => not.push(NotRun {
            id: "loss",
            needs: "a loss model that needs no evidence in the catalogue".to_owned(),
        }),
    }
}

fn gain(claim: &Claim, out: &mut Vec<Check>, not: &mut Vec<NotRun>) {
    let stock = |k| claim.si("stock", k);
    let power = claim.si("engine", "power");
    let stated = stock("gain").or_else(|| Some(stock("gain_percent")? / 100.0 * stock("power")?));
    let implied = power.and_then(|p| Some(p - stock("power")?));
    let (Some(gain), Some(base)) = (stated.or(implied), stock("power")) else {
        not.push(NotRun { id: "gain", needs: "stock.power, and engine.power or stock.gain".to_owned() });
        return;
    };
    if let (Some(stated), Some(implied)) = (stated, implied) {
        let gap = libm::fabs(stated - implied) / base;
        let outcome = if gap > 0.015 {
            Outcome::Contradicted
        } else if gap > 0.005 {
            Outcome::CannotTell
        } else {
            Outcome::Consistent
        };
        out.push(
            Check::new(
                "gain-sum",
                "stated gain against the difference of the powers",
                stated / 1000.0,
                "kW",
                IDENTITY,
            )
            .with("stock power", base / 1000.0, "kW")
            .with("gain from the two powers", implied / 1000.0, "kW")
            .bounds(Some((implied - 0.005 * base) / 1000.0), Some((implied + 0.005 * base) / 1000.0))
            .decide(
                outcome,
                Cite::new("sum", "arithmetic", Reading::Derived),
                format!("{:.1} % of stock power apart", 100.0 * gap),
            ),
        );
    }
    let repeats = stock("repeats").unwrap_or(3.0);
    let spread = stock("repeatability_percent");
    let percent = spread.unwrap_or(1.0);
    let least = smallest_detectable(percent * libm::sqrt(2.0 / repeats), 2.0 * repeats - 2.0);
    let gained = 100.0 * gain / base;
    let outcome = if libm::fabs(gained) >= least { Outcome::Consistent } else { Outcome::CannotTell };
    let place = if outcome == Outcome::Consistent {
        "a gain of this size can be told from the scatter of repeated pulls".to_owned()
    } else {
        "a gain of this size cannot be told from the scatter of repeated pulls".to_owned()
    };
    let cite = if spread.is_some() { DETECT } else { ASSUMED };
    let mut check =
        Check::new("gain", "gain against the smallest that repeated pulls can show", gained, "%", cite)
            .with("stock power", base / 1000.0, "kW")
            .with("gain", gain / 1000.0, "kW");
    check = if spread.is_some() {
        check.with("repeatability", percent, "%")
    } else {
        check.assuming("repeatability", percent, "%")
    };
    check = if stock("repeats").is_some() {
        check.with("repeats of each state", repeats, "1")
    } else {
        check.assuming("repeats of each state", repeats, "1")
    };
    out.push(check.bounds(Some(least), None).decide(outcome, cite, place));
}

fn knock(claim: &Claim, catalogue: &Catalogue<'_>, out: &mut Vec<Check>, not: &mut Vec<NotRun>) {
    let (Some(grade), Some(required)) = (claim.word("fuel", "grade"), claim.si("fuel", "required_ron"))
    else {
        not.push(NotRun { id: "knock", needs: "fuel.grade and fuel.required_ron".to_owned() });
        return;
    };
    let fuel = match fairpull_fuels::parse_fuel(grade) {
        Ok(f) => f.stock.fuel(),
        Err(e) => {
            not.push(NotRun { id: "knock", needs: e.to_string() });
            return;
        }
    };
    let mut point = KnockPoint::unknown();
    point.requirement = Some(Span::new(required, 0.5));
    point.k = Some(Span::new(0.0, 0.0));
    for model in catalogue.knocks() {
        let Ok(margin) = model.margin(&fuel, &point) else { continue };
        let card = model.card();
        let cite = card.sources.first().map_or(STATEMENT, |s| s.cite);
        let clear = margin.octane.value >= 0.0;
        let outcome = if clear { Outcome::Consistent } else { Outcome::CannotTell };
        let place = if clear {
            format!(
                "{:.1} octane numbers to spare; a calculated margin never replaces a knock measurement",
                margin.octane.value
            )
        } else {
            format!(
                "{:.1} octane numbers short: the power needs a measurement on this very fuel",
                -margin.octane.value
            )
        };
        out.push(
            Check::new(
                "knock",
                "octane of the fuel against the octane the engine is said to need",
                margin.fuel_index,
                "RON",
                cite,
            )
            .with("required", required, "RON")
            .bounds(Some(required), None)
            .decide(outcome, cite, place),
        );
        return;
    }
    not.push(NotRun { id: "knock", needs: "a knock model that works from a stated requirement in the catalogue, and a fuel with known octane".to_owned() });
}
