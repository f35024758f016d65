//! Checks on what the power must breathe and burn: fuel flow, air flow, compressor, injectors, manifold.

use crate::check::{Check, NotRun, Outcome};
use crate::claim::Claim;
use fairpull_core::{AbsolutePressure, Cite, Reading, Refusal, Temperature};
use fairpull_stress::{
    AbsoluteReading, Figure, Injectors, TemperatureReading, air_from_fuel, fuel_from_power, injector_load,
    volumetric_efficiency,
};

const BALANCE: Cite = Cite::new("fuel flow = power × specific consumption", "definition", Reading::Derived);
const BEST: Cite = Cite::new(
    "handbook figures of specific consumption",
    "spark ignition best 230 to 270 g/kWh, full load 280 to 340 g/kWh",
    Reading::Remembered,
);
const FILLING: Cite = Cite::new(
    "Heywood, Internal Combustion Engine Fundamentals (1988)",
    "volumetric efficiency",
    Reading::Remembered,
);
/// Relative standard uncertainty of a flow for which the claim gives none.
const FLOW_U: f64 = 0.015;
/// Relative standard uncertainty of a stated specific consumption.
const CONSUMPTION_U: f64 = 0.01;
/// Factor of a 99.9 % interval: beyond it a check contradicts, between 95 % and 99.9 % it cannot tell. A claim runs the
/// gauntlet of a dozen checks: with 99 % each, one honest claim in ten would be called contradicted.
pub(crate) const K999: f64 = 3.290526731491926;
/// Factor of a 95 % interval.
pub(crate) const K95: f64 = 1.959963984540054;

/// Stoichiometric ratio when the fuel is not named: petrol.
const STOICHIOMETRIC: f64 = 14.57;

/// Outcome of a value with relative standard uncertainty against an expected one.
pub(crate) fn compare(ln_ratio: f64, u: f64) -> Outcome {
    let z = libm::fabs(ln_ratio) / u;
    if z > K999 {
        Outcome::Contradicted
    } else if z > K95 {
        Outcome::CannotTell
    } else {
        Outcome::Consistent
    }
}

pub(crate) fn checks(claim: &Claim, out: &mut Vec<Check>, not: &mut Vec<NotRun>) -> Result<(), Refusal> {
    let Some(power) = claim.si("engine", "power") else {
        not.push(NotRun { id: "fuel-flow", needs: "engine.power".to_owned() });
        return Ok(());
    };
    if claim.word("engine", "site").is_some_and(|s| s != "crank") {
        not.push(NotRun {
            id: "fuel-flow",
            needs: "a figure at the crankshaft: the power here is stated elsewhere".to_owned(),
        });
        return Ok(());
    }
    let spark = claim.word("engine", "ignition").is_none_or(|i| i == "spark");
    fuel(claim, power, spark, out, not);
    air(claim, power, out, not)?;
    if spark {
        compressor(claim, power, out, not)?;
        injectors(claim, power, out, not)?;
        manifold(claim, power, out, not)?;
    } else {
        not.push(NotRun {
            id: "compressor-flow",
            needs: "spark ignition: its bounds are those of a spark-ignition engine".to_owned(),
        });
    }
    Ok(())
}

fn percent(claim: &Claim, key: &str) -> f64 {
    claim.si("fuel", key).map_or(FLOW_U, |p| p / 100.0)
}

fn fuel(claim: &Claim, power: f64, spark: bool, out: &mut Vec<Check>, not: &mut Vec<NotRun>) {
    let Some(flow) = claim.si("fuel", "flow") else {
        not.push(NotRun {
            id: "fuel-flow",
            needs: "fuel.flow, and fuel.consumption for a sharp answer".to_owned(),
        });
        return;
    };
    if let Some(stated) = claim.si("fuel", "consumption") {
        let carried = flow / stated;
        let u = libm::hypot(percent(claim, "flow_percent"), CONSUMPTION_U);
        let off = libm::log(power / carried);
        out.push(
            Check::new(
                "fuel-flow",
                "power that the fuel flow carries at the stated consumption",
                carried / 1000.0,
                "kW",
                BALANCE,
            )
            .with("fuel flow", 3600.0 * flow, "kg/h")
            .with("specific consumption", 3.6e9 * stated, "g/kWh")
            .assuming("standard uncertainty", 100.0 * u, "%")
            .bounds(Some(carried / 1000.0 * libm::exp(-K95 * u)), Some(carried / 1000.0 * libm::exp(K95 * u)))
            .decide(
                compare(off, u),
                BALANCE,
                format!("the claim is {:+.1} % from it", 100.0 * (power / carried - 1.0)),
            ),
        );
        return;
    }
    // g/kWh
    let used = 3.6e9 * flow / power;
    let (low, high) = if spark { (225.0, 400.0) } else { (180.0, 300.0) };
    let outcome = if used < low {
        Outcome::Contradicted
    } else if used > high {
        Outcome::CannotTell
    } else {
        Outcome::Consistent
    };
    out.push(
        Check::new("fuel-flow", "specific consumption that flow and power imply", used, "g/kWh", BEST)
            .with("fuel flow", 3600.0 * flow, "kg/h")
            .with("power", power / 1000.0, "kW")
            .bounds(Some(low), Some(high))
            .decide(outcome, BEST, "against the best and the richest engines of the handbooks".to_owned()),
    );
}

fn air(claim: &Claim, power: f64, out: &mut Vec<Check>, not: &mut Vec<NotRun>) -> Result<(), Refusal> {
    let (Some(air), Some(lambda), Some(stated)) =
        (claim.si("fuel", "air_flow"), claim.si("fuel", "lambda"), claim.si("fuel", "consumption"))
    else {
        not.push(NotRun {
            id: "air-flow",
            needs: "fuel.air_flow, fuel.lambda and fuel.consumption".to_owned(),
        });
        return Ok(());
    };
    let per_fuel = air_from_fuel(Figure::exact(1e-2), Figure::exact(lambda), Figure::exact(STOICHIOMETRIC))?
        .value
        / 1e-2;
    let carried = air / per_fuel / stated;
    // Lambda of a sensor and the stoichiometric ratio of an unnamed petrol: 1 % each.
    let meter = percent(claim, "air_flow_percent");
    let u = libm::sqrt(meter * meter + CONSUMPTION_U * CONSUMPTION_U + 2e-4);
    out.push(
        Check::new(
            "air-flow",
            "power that the air flow carries at the stated mixture and consumption",
            carried / 1000.0,
            "kW",
            BALANCE,
        )
        .with("air flow", air, "kg/s")
        .with("lambda", lambda, "1")
        .with("specific consumption", 3.6e9 * stated, "g/kWh")
        .assuming("stoichiometric ratio", STOICHIOMETRIC, "1")
        .assuming("standard uncertainty", 100.0 * u, "%")
        .bounds(Some(carried / 1000.0 * libm::exp(-K95 * u)), Some(carried / 1000.0 * libm::exp(K95 * u)))
        .decide(
            compare(libm::log(power / carried), u),
            BALANCE,
            format!("the claim is {:+.1} % from it", 100.0 * (power / carried - 1.0)),
        ),
    );
    Ok(())
}

/// Least and usual air, kg/s, for a power: 230 g/kWh at λ 1 and 300 g/kWh at λ 0.86.
fn breath(power: f64) -> Result<(f64, f64), Refusal> {
    let air = |bsfc: f64, lambda: f64| {
        let fuel = fuel_from_power(Figure::exact(power), Figure::exact(bsfc))?;
        Ok::<f64, Refusal>(air_from_fuel(fuel, Figure::exact(lambda), Figure::exact(STOICHIOMETRIC))?.value)
    };
    Ok((air(230.0, 1.0)?, air(300.0, 0.86)?))
}

fn compressor(claim: &Claim, power: f64, out: &mut Vec<Check>, not: &mut Vec<NotRun>) -> Result<(), Refusal> {
    let Some(capacity) = claim.si("parts", "compressor_flow") else {
        not.push(NotRun {
            id: "compressor-flow",
            needs: "parts.compressor_flow (the most the map shows)".to_owned(),
        });
        return Ok(());
    };
    let (least, usual) = breath(power)?;
    // Maps are stated for different reference air, which moves the point by up to 8 %.
    let outcome = if least > 1.08 * capacity {
        Outcome::Contradicted
    } else if usual > capacity {
        Outcome::CannotTell
    } else {
        Outcome::Consistent
    };
    out.push(
        Check::new(
            "compressor-flow",
            "air that the power needs against the flow of the compressor",
            usual,
            "kg/s",
            BEST,
        )
        .with("power", power / 1000.0, "kW")
        .with("compressor flow", capacity, "kg/s")
        .assuming("least air: 230 g/kWh at lambda 1", least, "kg/s")
        .assuming("usual air: 300 g/kWh at lambda 0.86", usual, "kg/s")
        .bounds(None, Some(capacity))
        .decide(
            outcome,
            BEST,
            format!(
                "usual need is {:.0} %, least need {:.0} % of the compressor",
                100.0 * usual / capacity,
                100.0 * least / capacity
            ),
        ),
    );
    Ok(())
}

fn injectors(claim: &Claim, power: f64, out: &mut Vec<Check>, not: &mut Vec<NotRun>) -> Result<(), Refusal> {
    let p = |k| claim.si("parts", k);
    let (Some(count), Some(rated)) = (p("injectors"), p("injector_flow")) else {
        not.push(NotRun { id: "injectors", needs: "parts.injectors and parts.injector_flow".to_owned() });
        return Ok(());
    };
    let rated_drop = p("injector_rated_drop").unwrap_or(3e5) / 1000.0;
    let drop = p("injector_drop").map_or(rated_drop, |x| x / 1000.0);
    let set = Injectors {
        count,
        rated_cm3_min: Figure::exact(rated * 6e7),
        rated_drop_kpa: rated_drop,
        rated_density: None,
    };
    let density = Figure::exact(745.0);
    let manifold = AbsoluteReading::new(AbsolutePressure::from_kilopascals(100.0), 0.0)?;
    let rail = AbsoluteReading::new(AbsolutePressure::from_kilopascals(100.0 + drop), 0.0)?;
    let speed = Figure::exact(claim.si("engine", "power_speed").unwrap_or(600.0) * 9.549_296_585_513_72);
    let duty = |bsfc: f64| {
        let fuel = fuel_from_power(Figure::exact(power), Figure::exact(bsfc))?;
        Ok::<f64, Refusal>(injector_load(&set, fuel, density, &rail, &manifold, speed)?.duty.value)
    };
    let (least, usual) = (duty(230.0)?, duty(300.0)?);
    let outcome = if least > 1.0 {
        Outcome::Contradicted
    } else if usual > 0.9 {
        Outcome::CannotTell
    } else {
        Outcome::Consistent
    };
    out.push(
        Check::new("injectors", "share of time that the injectors must be open", usual, "1", BEST)
            .with("power", power / 1000.0, "kW")
            .with("injectors", count, "1")
            .with("rated flow", rated * 6e7, "cm³/min")
            .assuming("pressure drop", drop, "kPa")
            .assuming("fuel density", 745.0, "kg/m³")
            .assuming("least: at 230 g/kWh", least, "1")
            .assuming("usual: at 300 g/kWh", usual, "1")
            .bounds(None, Some(1.0))
            .decide(
                outcome,
                BEST,
                format!(
                    "usual {:.0} %, least {:.0} % open; above 80 to 90 % is commonly called the limit",
                    100.0 * usual,
                    100.0 * least
                ),
            ),
    );
    Ok(())
}

fn manifold(claim: &Claim, power: f64, out: &mut Vec<Check>, not: &mut Vec<NotRun>) -> Result<(), Refusal> {
    let (Some(pressure), Some(v), Some(n)) = (
        claim.si("parts", "manifold_pressure"),
        claim.si("engine", "displacement"),
        claim.si("engine", "power_speed"),
    ) else {
        not.push(NotRun {
            id: "manifold",
            needs: "parts.manifold_pressure (absolute), engine.displacement and engine.power_speed"
                .to_owned(),
        });
        return Ok(());
    };
    let given = claim.si("parts", "charge_temperature");
    let kelvin = given.unwrap_or(318.15);
    let reading = AbsoluteReading::new(AbsolutePressure::from_kilopascals(pressure / 1000.0), 0.0)?;
    let charge = TemperatureReading::new(Temperature::from_kelvin(kelvin), 0.0);
    let rpm = n * 9.549_296_585_513_72;
    let filling = |air: f64| {
        let air = Figure::exact(air);
        Ok::<f64, Refusal>(
            volumetric_efficiency(air, &reading, &charge, Figure::exact(v), Figure::exact(rpm))?.value,
        )
    };
    let (least, usual) = breath(power)?;
    let (least, usual) = (filling(least)?, filling(usual)?);
    let outcome = if least > 1.25 {
        Outcome::Contradicted
    } else if usual > 1.1 {
        Outcome::CannotTell
    } else {
        Outcome::Consistent
    };
    let mut check = Check::new(
        "manifold",
        "filling of the cylinders, on the state in the manifold, that the power needs",
        usual,
        "1",
        FILLING,
    )
    .with("power", power / 1000.0, "kW")
    .with("manifold pressure, absolute", pressure / 1000.0, "kPa")
    .with("displacement", 1e6 * v, "cm³")
    .with("speed of peak power", rpm, "1/min");
    check = match given {
        Some(t) => check.with("charge temperature", t - 273.15, "°C"),
        None => check.assuming("charge temperature", kelvin - 273.15, "°C"),
    };
    out.push(check.assuming("least filling", least, "1").bounds(Some(0.8), Some(1.1)).decide(
        outcome,
        FILLING,
        format!("usual {usual:.2}, least {least:.2}; road engines 0.80 to 0.95, tuned up to 1.15"),
    ));
    Ok(())
}
