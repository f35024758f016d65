//! Every figure that one state allows.

use serde::Serialize;

use crate::input::{Maybe, celsius};
use crate::turbine::Balance;
use crate::{
    BMEP_ASPIRATED_LIMIT, BMEP_CHARGED_LIMIT, CAUTION, CoolerPoint, DUTY_LIMIT, FLOW_EXPONENT, Figure,
    PISTON_SPEED_LIMIT, StressInput, charge_density, compressor, cooler, injector_load, mean_piston_speed,
    power_to_limit, specific_power, turbine, volumetric_efficiency,
};

/// One stress figure.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct StressFigure {
    /// Stable name, e.g. `pre-turbine-over-manifold`.
    pub id: &'static str,
    /// Name for readers.
    pub title: &'static str,
    /// Unit.
    pub unit: &'static str,
    /// Value with standard uncertainty.
    pub figure: Figure,
    /// A label or a question that the value raises.
    pub remark: Option<&'static str>,
}

/// A figure that was asked for and refused.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Refused {
    /// Which figure.
    pub id: &'static str,
    /// Why, with value, unit and range.
    pub why: String,
}

/// All figures of one state.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[non_exhaustive]
pub struct StressReport {
    /// Figures in a fixed order.
    pub figures: Vec<StressFigure>,
    /// Figures whose inputs were given but impossible.
    pub refused: Vec<Refused>,
    /// The caution.
    pub caution: &'static str,
}

impl StressReport {
    /// The figure with this id.
    #[must_use]
    pub fn get(&self, id: &str) -> Option<&StressFigure> {
        self.figures.iter().find(|f| f.id == id)
    }

    fn add(&mut self, id: &'static str, title: &'static str, unit: &'static str, got: Maybe<Figure>) {
        self.add_with(id, title, unit, got, |_| None);
    }

    fn add_with(
        &mut self,
        id: &'static str,
        title: &'static str,
        unit: &'static str,
        got: Maybe<Figure>,
        remark: impl Fn(f64) -> Option<&'static str>,
    ) {
        match got {
            Ok(Some(figure)) if figure.value.is_finite() && figure.uncertainty.is_finite() => {
                self.figures.push(StressFigure { id, title, unit, figure, remark: remark(figure.value) });
            }
            Ok(None) => {}
            // a standard uncertainty that leaves the domain of the formula on both sides says nothing
            Ok(Some(figure)) => {
                let why = format!(
                    "{title} is {} {unit}, but the stated uncertainties allow any value",
                    figure.value
                );
                self.refused.push(Refused { id, why });
            }
            Err(refusal) => self.refused.push(Refused { id, why: refusal.to_string() }),
        }
    }
}

/// Every stress figure that a state allows. Figures whose inputs are missing are left out; figures whose inputs are
/// impossible stand under `refused` with value, unit and range.
#[must_use]
pub fn stress(input: &StressInput) -> StressReport {
    let mut out = StressReport { caution: CAUTION, ..StressReport::default() };
    exhaust(input, &mut out);
    charge(input, &mut out);
    flow(input, &mut out);
    load(input, &mut out);
    out
}

fn exhaust(i: &StressInput, out: &mut StressReport) {
    let pre = i.pressure("pre-turbine pressure", i.pre_turbine.as_ref());
    let post = i.pressure("pressure behind the turbine", i.post_turbine.as_ref());
    let manifold = i.pressure("manifold pressure", i.manifold.as_ref());
    out.add("pre-turbine", "pre-turbine pressure", "kPa absolute", pre.map(|p| p.map(|p| p.kilopascals())));
    let both = || both(pre, manifold);
    let ratio = both().and_then(|b| b.map(|(p, m)| turbine::pressure_ratio(&p, &m)).transpose());
    let label = |r: f64| Some(turbine::ratio_label(r));
    out.add_with("pre-turbine-over-manifold", "pre-turbine over manifold pressure", "1", ratio, label);
    let pumping = both().map(|b| b.map(|(p, m)| turbine::pumping_pressure(&p, &m)));
    out.add(
        "pumping-pressure",
        "pumping mean effective pressure (loss)",
        "kPa",
        pumping.map(|p| p.map(|p| p.scaled(1e-3))),
    );
    let cost = pumping.and_then(|p| match (p, i.swept(), i.engine_speed_rpm) {
        (Some(p), Some(v), Some(n)) => turbine::pumping_power(p, v, n).map(|w| Some(w.scaled(1e-3))),
        _ => Ok(None),
    });
    out.add("pumping-power", "power spent on pumping", "kW", cost);
    let across = self::both(pre, post);
    let expansion = across.and_then(|b| b.map(|(p, q)| turbine::expansion_ratio(&p, &q)).transpose());
    out.add("expansion-ratio", "turbine expansion ratio", "1", expansion);
    out.add("expansion-ratio-needed", "expansion ratio that the turbine needs at least", "1", needed(i));
}

fn needed(i: &StressInput) -> Maybe<Figure> {
    let Some(pressure_ratio) = compression(i)? else { return Ok(None) };
    let measured = compressor_efficiency(i)?;
    let ratio =
        i.lambda.zip(i.stoichiometric_ratio).map(|(l, s)| crate::figure::propagate([l, s], |x| x[0] * x[1]));
    let (
        Some(inlet),
        Some(compressor_efficiency),
        Some(exhaust),
        Some(turbine_efficiency),
        Some(mechanical_efficiency),
    ) = (
        celsius(i.intake_temperature_c),
        measured.or(i.compressor_efficiency),
        celsius(i.pre_turbine_temperature_c),
        i.turbine_efficiency,
        i.turbocharger_mechanical_efficiency,
    )
    else {
        return Ok(None);
    };
    let Some(air_fuel_ratio) = ratio else { return Ok(None) };
    let balance = Balance {
        pressure_ratio,
        inlet,
        compressor_efficiency,
        exhaust,
        turbine_efficiency,
        mechanical_efficiency,
        air_fuel_ratio,
    };
    turbine::expansion_from_balance(&balance).map(Some)
}

/// Compressor pressure ratio.
fn compression(i: &StressInput) -> Maybe<Figure> {
    let outlet = i.pressure("compressor outlet pressure", i.compressor_outlet.as_ref())?;
    let Some((a, b)) = i.inlet()?.zip(outlet) else { return Ok(None) };
    compressor::pressure_ratio(&a, &b).map(Some)
}

/// Compressor efficiency by its temperatures.
fn compressor_efficiency(i: &StressInput) -> Maybe<Figure> {
    let (Some(t1), Some(t2), Some(ratio)) =
        (celsius(i.intake_temperature_c), celsius(i.compressor_outlet_temperature_c), compression(i)?)
    else {
        return Ok(None);
    };
    compressor::efficiency(&t1, &t2, ratio).map(Some)
}

fn charge(i: &StressInput, out: &mut StressReport) {
    out.add("compressor-ratio", "compressor pressure ratio", "1", compression(i));
    let measured = compressor_efficiency(i);
    out.add("compressor-efficiency", "compressor efficiency (isentropic)", "1", measured);
    let (inlet, hot) = (celsius(i.intake_temperature_c), celsius(i.compressor_outlet_temperature_c));
    let stated = i.compressor_efficiency;
    if hot.is_none() {
        let outlet = compression(i).and_then(|ratio| match (inlet, ratio, stated) {
            (Some(t), Some(r), Some(e)) => {
                compressor::outlet_temperature(&t, r, e).map(|k| Some(to_celsius(k)))
            }
            _ => Ok(None),
        });
        out.add("compressor-outlet", "compressor outlet temperature", "°C", outlet);
    }
    let (cooled, coolant) = (celsius(i.charge_temperature_c), celsius(i.coolant_temperature_c));
    let effectiveness = match (hot, cooled, coolant) {
        (Some(h), Some(c), Some(w)) => cooler::effectiveness(&h, &c, &w).map(Some),
        _ => Ok(None),
    };
    out.add("cooler-effectiveness", "charge-cooler effectiveness", "1", effectiveness);
    let manifold = i.pressure("manifold pressure", i.manifold.as_ref());
    let before = i.pressure("compressor outlet pressure", i.compressor_outlet.as_ref());
    let drop = both(before, manifold).and_then(|b| b.map(|(p, q)| cooler::pressure_drop(&p, &q)).transpose());
    out.add(
        "cooler-drop",
        "pressure drop compressor to manifold",
        "kPa",
        drop.map(|d| d.map(|d| d.scaled(1e-3))),
    );
    let heat = i.air().and_then(|air| match (air, hot, cooled) {
        (Some(a), Some(h), Some(c)) => cooler::heat_rejected(a, &h, &c).map(|q| Some(q.scaled(1e-3))),
        _ => Ok(None),
    });
    out.add("cooler-heat", "heat rejected by the charge cooler", "kW", heat);
    out.add(
        "cooler-power",
        "power at which the charge reaches its limit",
        "kW",
        reserve(i, effectiveness, drop, measured),
    );
    let density = manifold.and_then(|p| p.zip(cooled).map(|(p, t)| charge_density(&p, &t)).transpose());
    out.add("charge-density", "charge density", "kg/m³", density);
    let gain = both(manifold, i.barometer()).and_then(|b| match (b, cooled, inlet) {
        (Some((p, a)), Some(t), Some(t1)) => cooler::density_ratio(&p, &t, &a, &t1).map(Some),
        _ => Ok(None),
    });
    out.add("density-ratio", "charge density over ambient density", "1", gain);
}

fn reserve(
    i: &StressInput,
    effectiveness: Maybe<Figure>,
    drop: Maybe<Figure>,
    measured: Maybe<Figure>,
) -> Maybe<Figure> {
    let (Some(limit), Some(power), Some(inlet_temperature), Some(coolant)) = (
        celsius(i.charge_temperature_limit_c),
        i.power(),
        celsius(i.intake_temperature_c),
        celsius(i.coolant_temperature_c),
    ) else {
        return Ok(None);
    };
    let outlet = i.pressure("compressor outlet pressure", i.compressor_outlet.as_ref())?;
    let (
        Some(inlet_pressure),
        Some(outlet_pressure),
        Some(effectiveness),
        Some(pressure_drop),
        Some(efficiency),
    ) = (i.inlet()?, outlet, effectiveness?, drop?, measured?.or(i.compressor_efficiency))
    else {
        return Ok(None);
    };
    let point = CoolerPoint {
        power,
        inlet_pressure,
        inlet_temperature,
        outlet_pressure,
        compressor_efficiency: efficiency,
        coolant,
        effectiveness,
        pressure_drop,
        flow_exponent: FLOW_EXPONENT,
    };
    power_to_limit(&point, &limit).map(|r| Some(r.power.scaled(1e-3)))
}

fn flow(i: &StressInput, out: &mut StressReport) {
    out.add("air-speed-density", "air flow by speed-density", "kg/s", i.air_by_speed_density());
    out.add("air-fuel", "air flow from fuel and lambda", "kg/s", i.air_from_fuel());
    out.add("fuel-flow", "fuel flow", "kg/h", i.fuel().map(|f| f.map(|f| f.scaled(3600.0))));
    let air = i.air_flow_kg_s.map_or_else(|| i.air_from_fuel(), |a| Ok(Some(a)));
    let manifold = i.pressure("manifold pressure", i.manifold.as_ref());
    let filling = both(air, manifold).and_then(|b| {
        match (b, celsius(i.charge_temperature_c), i.swept(), i.engine_speed_rpm) {
            (Some((a, p)), Some(t), Some(v), Some(n)) => volumetric_efficiency(a, &p, &t, v, n).map(Some),
            _ => Ok(None),
        }
    });
    let doubt =
        |ve: f64| (ve > 1.15).then_some("above what manifold pressure and temperature allow: check the flow");
    out.add_with("volumetric-efficiency", "volumetric efficiency on manifold state", "1", filling, doubt);
    let rail = i.pressure("rail pressure", i.rail.as_ref());
    let load = both(rail, manifold).and_then(|b| {
        match (b, i.set_of_injectors(), i.fuel()?, i.fuel_density_kg_m3, i.engine_speed_rpm) {
            (Some((r, m)), Some(set), Some(fuel), Some(rho), Some(n)) => {
                injector_load(&set, fuel, rho, &r, &m, n).map(Some)
            }
            _ => Ok(None),
        }
    });
    let full = |duty: f64| {
        (duty > DUTY_LIMIT[0]).then_some("above 80 to 90 % the injectors are commonly called at their limit")
    };
    out.add_with("injector-duty", "injector duty", "1", load.map(|l| l.map(|l| l.duty)), full);
    out.add("injector-pulse", "injection time a cycle", "ms", load.map(|l| l.map(|l| l.pulse.scaled(1e3))));
}

fn load(i: &StressInput, out: &mut StressReport) {
    let bmep = match (i.torque_nm, i.power(), i.engine_speed_rpm, i.swept()) {
        (Some(t), _, _, Some(v)) => crate::bmep_from_torque(t, v).map(Some),
        (None, Some(p), Some(n), Some(v)) => crate::bmep_from_power(p, n, v).map(Some),
        _ => Ok(None),
    };
    let limit = if i.charged { BMEP_CHARGED_LIMIT } else { BMEP_ASPIRATED_LIMIT };
    let much = |b: f64| (b > limit).then_some("above what such engines usually show: ask for evidence");
    out.add_with(
        "bmep",
        "brake mean effective pressure",
        "bar",
        bmep.map(|b| b.map(|b| b.scaled(1e-5))),
        much,
    );
    let speed =
        i.stroke_mm.zip(i.engine_speed_rpm).map(|(s, n)| mean_piston_speed(s.scaled(1e-3), n)).transpose();
    let fast =
        |v: f64| (v > PISTON_SPEED_LIMIT).then_some("above what road engines usually show: ask for evidence");
    out.add_with("piston-speed", "mean piston speed", "m/s", speed, fast);
    let specific = i.power().zip(i.swept()).map(|(p, v)| specific_power(p, v)).transpose();
    out.add("specific-power", "specific power", "kW/L", specific.map(|s| s.map(|s| s.scaled(1e-6))));
}

fn both<A, B>(a: Maybe<A>, b: Maybe<B>) -> Maybe<(A, B)> {
    Ok(a?.zip(b?))
}

fn to_celsius(kelvin: Figure) -> Figure {
    Figure::new(kelvin.value - 273.15, kelvin.uncertainty)
}
