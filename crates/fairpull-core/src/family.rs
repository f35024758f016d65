//! Formula families that several standards share. Constants stay in each standard's own crate.

use crate::{
    Air, ChargeCooling, Charging, Cite, Engine, Input, Limit, Notice, PressureBasis, ReferenceAir, Refusal,
};
use libm::pow;

/// Exponents of the pressure ratio and of the temperature ratio in an atmospheric factor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exponents {
    /// Exponent of p_ref/p.
    pub pressure: f64,
    /// Exponent of T/T_ref.
    pub temperature: f64,
}

impl Exponents {
    /// A pair of exponents: of p_ref/p and of T/T_ref.
    #[must_use]
    pub const fn new(pressure: f64, temperature: f64) -> Self {
        Self { pressure, temperature }
    }

    /// The atmospheric factor with these exponents, see [`power_law`].
    #[must_use]
    #[inline]
    pub fn factor(&self, reference: &ReferenceAir, air: &Air) -> f64 {
        power_law(reference, air, self.pressure, self.temperature)
    }
}

/// The compression-ignition rule of a text: f_a^f_m with exponents by kind of charging.
///
/// Exponents and engine factor come in pairs: one value holds both, so that they cannot be crossed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DieselRule {
    /// Naturally aspirated and mechanically supercharged.
    pub aspirated: Exponents,
    /// Turbocharged without charge cooling or with charge air cooled by air.
    pub turbocharged: Exponents,
    /// Turbocharged with charge air cooled by liquid.
    pub liquid_cooled: Exponents,
    /// The engine factor f_m that belongs to these exponents.
    pub engine_factor: EngineFactor,
    /// The clause that asks for fuel delivery and pressure ratio.
    pub cite: Cite,
}

impl DieselRule {
    /// The exponents for an engine.
    #[must_use]
    pub const fn exponents(&self, engine: &Engine) -> Exponents {
        match (engine.charging, engine.charge_cooling) {
            (Charging::None | Charging::Supercharged, _) => self.aspirated,
            (Charging::Turbocharged, ChargeCooling::Liquid) => self.liquid_cooled,
            (Charging::Turbocharged, _) => self.turbocharged,
        }
    }

    /// f_a^f_m for this air and engine.
    ///
    /// # Errors
    /// As [`EngineFactor::of`].
    pub fn factor(&self, reference: &ReferenceAir, air: &Air, engine: &Engine) -> Result<f64, Refusal> {
        let fm = self.engine_factor.of(engine, self.cite)?;
        let e = self.exponents(engine);
        Ok(diesel(reference, air, e.pressure, e.temperature, fm))
    }
}

/// Fuel per working cycle and litre of total swept volume, mg/(l·cycle): q = z·F/(D·N).
///
/// F fuel flow in g/s, D total swept volume in litres, N engine speed in 1/min; z = 120 000 for four-stroke engines,
/// 60 000 for two-stroke engines (milligrams per gram × seconds per minute × revolutions per cycle).
///
/// ```
/// // 4 g/s, 2 litres, 4000 1/min, four-stroke
/// assert_eq!(fairpull_core::family::fuel_per_cycle(4.0, 2.0, 4000.0, false), 60.0);
/// ```
#[must_use]
pub fn fuel_per_cycle(fuel_g_per_s: f64, swept_l: f64, speed_rpm: f64, two_stroke: bool) -> f64 {
    let z = if two_stroke { 60_000.0 } else { 120_000.0 };
    z * fuel_g_per_s / (swept_l * speed_rpm)
}

/// Mechanical efficiency of an engine, brake over indicated power, or the stated one with a notice.
///
/// # Errors
/// [`Refusal::NotFinite`] or [`Refusal::OutOfRange`] (0.1 to 1) for a value no engine has at full load.
pub fn mechanical_efficiency(
    engine: &Engine,
    otherwise: f64,
    cite: &'static Cite,
) -> Result<(f64, Option<Notice>), Refusal> {
    static INPUT: Input = Input { name: "mechanical efficiency", unit: "1" };
    let Input { name: what, unit } = INPUT;
    match engine.mechanical_efficiency {
        None => Ok((otherwise, Some(Notice::Assumed { what: &INPUT, value: otherwise, cite }))),
        Some(eta) if !eta.is_finite() => Err(Refusal::NotFinite { what, unit }),
        Some(eta) => Ok((Limit { what, unit, low: 0.1, high: 1.0, cite: *cite }.check(eta)?, None)),
    }
}

/// Pressure the formula reads, kPa, on the basis of the reference.
#[must_use]
#[inline]
pub fn pressure_kpa(reference: &ReferenceAir, air: &Air) -> f64 {
    match reference.basis {
        PressureBasis::Dry => air.dry().kilopascals(),
        PressureBasis::Total => air.station().kilopascals(),
    }
}

/// Intake temperature in the text's own kelvin.
#[must_use]
#[inline]
pub fn kelvin(reference: &ReferenceAir, air: &Air) -> f64 {
    air.temperature().celsius() + reference.kelvin_offset
}

/// (p_ref/p)^a · (T/T_ref)^b.
///
/// p on the basis of the reference (dry or total), T = t + the text's own offset. Exactly 1 at the reference.
#[must_use]
#[inline]
pub fn power_law(reference: &ReferenceAir, air: &Air, a: f64, b: f64) -> f64 {
    let p = reference.pressure_kpa / pressure_kpa(reference, air);
    let t = kelvin(reference, air) / reference.kelvin();
    raise(p, a) * raise(t, b)
}

/// The exponents 1 and 0.5 are printed as a plain ratio and a root in the texts, so they are computed as such.
#[inline]
fn raise(base: f64, exponent: f64) -> f64 {
    if exponent == 1.0 {
        base
    } else if exponent == 0.5 {
        libm::sqrt(base)
    } else {
        pow(base, exponent)
    }
}

/// scale · (p_ref/p)^a · (T/T_ref)^b − offset: a factor on indicated power with a fixed friction share.
#[must_use]
pub fn affine(reference: &ReferenceAir, air: &Air, a: f64, b: f64, scale: f64, offset: f64) -> f64 {
    scale * power_law(reference, air, a, b) - offset
}

/// Brake-power factor from a factor `k` on indicated power: P_b·f = k·P_i − P_f, so f = (k − (1 − η))/η.
///
/// `efficiency` η = brake over indicated power, 0 < η ≤ 1; `efficiency` 1 gives `k` itself.
#[must_use]
pub fn on_indicated(k: f64, efficiency: f64) -> f64 {
    (k - (1.0 - efficiency)) / efficiency
}

/// [`on_indicated`] for a text that is asked about any air.
///
/// # Errors
/// [`Refusal::Other`] where the corrected indicated power does not exceed the friction power.
pub fn on_indicated_checked(k: f64, efficiency: f64, cite: Cite) -> Result<f64, Refusal> {
    let value = on_indicated(k, efficiency);
    if value > 0.0 {
        Ok(value)
    } else {
        Err(Refusal::Other {
            why: "with this mechanical efficiency the friction power exceeds the corrected indicated power",
            cite,
        })
    }
}

/// How the engine factor f_m of a compression-ignition text follows from corrected fuel delivery q_c = q/r.
///
/// Two families are printed; limit and lower value come in pairs and must not be crossed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EngineFactor {
    /// Below this q_c, mg/(l·cycle), f_m is `lower`.
    pub from: f64,
    /// f_m below `from`.
    pub lower: f64,
    /// Above this q_c f_m is `upper`.
    pub to: f64,
    /// f_m above `to`.
    pub upper: f64,
    /// Slope of the straight part, per mg/(l·cycle).
    pub slope: f64,
    /// Subtrahend of the straight part.
    pub minus: f64,
}

impl EngineFactor {
    /// f_m = 0.036 q_c − 1.14 from 40 to 65 mg/(l·cycle); 0.3 below, 1.2 above.
    pub const FROM_40: Self =
        Self { from: 40.0, lower: 0.3, to: 65.0, upper: 1.2, slope: 0.036, minus: 1.14 };
    /// f_m = 0.036 q_c − 1.14 from 37.2 to 65 mg/(l·cycle); 0.2 below, 1.2 above.
    pub const FROM_37_2: Self =
        Self { from: 37.2, lower: 0.2, to: 65.0, upper: 1.2, slope: 0.036, minus: 1.14 };

    /// f_m at q_c, mg/(l·cycle).
    #[must_use]
    pub fn at(&self, qc: f64) -> f64 {
        if qc < self.from {
            self.lower
        } else if qc > self.to {
            self.upper
        } else {
            self.slope * qc - self.minus
        }
    }

    /// f_m of an engine from its fuel delivery and charge pressure ratio.
    ///
    /// # Errors
    /// [`Refusal::Missing`] without fuel delivery, or without a pressure ratio on a charged engine;
    /// [`Refusal::NotFinite`] or [`Refusal::Other`] for values no engine has.
    pub fn of(&self, engine: &Engine, cite: Cite) -> Result<f64, Refusal> {
        let q = engine.fuel_per_cycle.ok_or(Refusal::Missing {
            what: "fuel per cycle",
            mend: "give the fuel delivery in mg per cycle and litre of total swept volume",
            cite,
        })?;
        let r = match (engine.charge_pressure_ratio, engine.charging) {
            (Some(r), _) => r,
            (None, Charging::None) => 1.0,
            (None, _) => {
                return Err(Refusal::Missing {
                    what: "charge pressure ratio",
                    mend: "give the charger's absolute pressure ratio, outlet over inlet",
                    cite,
                });
            }
        };
        if !q.is_finite() {
            return Err(Refusal::NotFinite { what: "fuel per cycle", unit: "mg/(l·cycle)" });
        }
        if !r.is_finite() {
            return Err(Refusal::NotFinite { what: "charge pressure ratio", unit: "1" });
        }
        Limit { what: "fuel per cycle", unit: "mg/(l·cycle)", low: 0.0, high: 1000.0, cite }.check(q)?;
        Limit { what: "charge pressure ratio", unit: "1", low: 1.0, high: 10.0, cite }.check(r)?;
        Ok(self.at(q / r))
    }
}

/// f_a^f_m with f_a = (p_ref/p)^a · (T/T_ref)^b.
#[must_use]
pub fn diesel(reference: &ReferenceAir, air: &Air, a: f64, b: f64, fm: f64) -> f64 {
    pow(power_law(reference, air, a, b), fm)
}
