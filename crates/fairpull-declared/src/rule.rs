//! The formula of one kind of ignition.

use crate::error::DeclarationError;
use crate::fields::Fields;
use crate::intern;
use fairpull_core::family::{
    DieselRule, EngineFactor, Exponents, affine, mechanical_efficiency, on_indicated_checked,
};
use fairpull_core::{Air, Charging, Cite, Engine, Notice, ReferenceAir, Refusal, StandardCard};

/// The formula families that can be declared.
#[derive(Clone, Copy, Debug)]
enum Family {
    /// (p_ref/p)^a · (T/T_ref)^b
    PowerLaw(Exponents),
    /// scale · (p_ref/p)^a · (T/T_ref)^b − offset; where the text also prints the form with measured friction power
    /// (last field), that form is used for an engine whose mechanical efficiency is given
    Affine(Exponents, f64, f64, bool),
    /// (k − (1 − η))/η with k the power law and η the engine's mechanical efficiency or the given one
    OnIndicated(Exponents, f64),
    /// f_a^f_m
    EngineFactor(DieselRule),
    /// The text covers the ignition, but its formula was not found: refused with the reason.
    NotKnown(&'static str),
}

/// A formula with the restriction that belongs to it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Rule {
    family: Family,
    /// False when this formula is for naturally aspirated engines only.
    charged: bool,
    /// True when the text does not correct turbocharged engines of this ignition.
    turbocharged_uncorrected: bool,
    /// Why the treatment of mechanically supercharged engines is not known, if it is not.
    supercharged_not_known: Option<&'static str>,
    cite: &'static Cite,
}

/// Exponents that any text could print.
const EXPONENT: (f64, f64) = (-3.0, 3.0);
const NUMBER: (f64, f64) = (-100.0, 100.0);

impl Rule {
    /// Reads the fields of a formula; the caller finishes the table.
    pub(crate) fn read(fields: &Fields<'_>, cite: Cite) -> Result<Self, DeclarationError> {
        let pair = |fields: &Fields<'_>, key| {
            let what = "a pair [exponent of p_ref/p, exponent of T/T_ref]";
            fields.pair(key, EXPONENT, what).map(|[a, b]| Exponents::new(a, b))
        };
        let word = fields.choice(
            "family",
            &[("power-law", 0), ("affine", 1), ("on-indicated", 2), ("engine-factor", 3), ("not-known", 4)],
        )?;
        let family = match word {
            0 => Family::PowerLaw(pair(fields, "exponents")?),
            1 => {
                let scale = fields.number("scale", NUMBER, "")?;
                let offset = fields.number("offset", NUMBER, "")?;
                let at_reference = scale - offset;
                if !(0.999_999..=1.000_001).contains(&at_reference) {
                    let message = format!(
                        "{offset} beside scale {scale} gives the factor {at_reference} at the reference air, where it must be 1"
                    );
                    return Err(fields.error("offset", None, message));
                }
                let friction = fields.truth_or("friction-form", false)?;
                Family::Affine(pair(fields, "exponents")?, scale, offset, friction)
            }
            2 => Family::OnIndicated(
                pair(fields, "exponents")?,
                fields.number("mechanical-efficiency", (0.5, 1.0), " (brake over indicated power)")?,
            ),
            4 => Family::NotKnown(intern::text(fields.text("why", "what could not be established")?)),
            _ => Family::EngineFactor(DieselRule {
                aspirated: pair(fields, "aspirated")?,
                turbocharged: pair(fields, "turbocharged")?,
                liquid_cooled: pair(fields, "liquid-cooled")?,
                engine_factor: engine_factor(
                    &fields.table("engine-factor", "a table with from, lower, to, upper, slope and minus")?,
                )?,
                cite,
            }),
        };
        Ok(Self {
            family,
            charged: fields.truth_or("charged", true)?,
            turbocharged_uncorrected: fields.truth_or("turbocharged-uncorrected", false)?,
            supercharged_not_known: fields
                .text_or_none("supercharged-not-known", "what could not be established")?
                .map(intern::text),
            cite: intern::cite(cite),
        })
    }

    /// The formula's value for this air and engine, with a remark where it assumed something.
    pub(crate) fn value(
        &self,
        card: &StandardCard,
        air: &Air,
        engine: &Engine,
    ) -> Result<(f64, Option<Notice>), Refusal> {
        if engine.charging != Charging::None && !self.charged {
            let why = "the text gives this formula for naturally aspirated engines only";
            return Err(Refusal::NotApplicable { why, cite: *self.cite });
        }
        if let (Charging::Supercharged, Some(why)) = (engine.charging, self.supercharged_not_known) {
            return Err(Refusal::Other { why, cite: *self.cite });
        }
        if engine.charging == Charging::Turbocharged && self.turbocharged_uncorrected {
            return Ok((1.0, None));
        }
        let reference = &card.reference;
        let (value, notice) = match &self.family {
            Family::PowerLaw(e) => (e.factor(reference, air), None),
            Family::Affine(e, _, _, true) if engine.mechanical_efficiency.is_some() => {
                let (efficiency, notice) = mechanical_efficiency(engine, 1.0, self.cite)?;
                (on_indicated_checked(e.factor(reference, air), efficiency, *self.cite)?, notice)
            }
            Family::Affine(e, scale, offset, _) => {
                (affine(reference, air, e.pressure, e.temperature, *scale, *offset), None)
            }
            Family::OnIndicated(e, otherwise) => {
                let (efficiency, notice) = mechanical_efficiency(engine, *otherwise, self.cite)?;
                (on_indicated_checked(e.factor(reference, air), efficiency, *self.cite)?, notice)
            }
            Family::EngineFactor(rule) => (rule.factor(reference, air, engine)?, None),
            Family::NotKnown(why) => return Err(Refusal::Other { why, cite: *self.cite }),
        };
        if value.is_finite() && value > 0.0 {
            Ok((value, notice))
        } else {
            Err(Refusal::Other {
                why: "the declared formula gives no positive factor for this air",
                cite: *self.cite,
            })
        }
    }

    /// The formula in symbols, for a card whose author wrote none.
    pub(crate) fn formula(&self, r: &ReferenceAir) -> String {
        let p = match r.basis {
            fairpull_core::PressureBasis::Dry => "p_d",
            fairpull_core::PressureBasis::Total => "p",
        };
        let law = |e: &Exponents| {
            format!("({}/{p})^{} (T/{})^{}", r.pressure_kpa, e.pressure, r.kelvin(), e.temperature)
        };
        let friction = |yes| if yes { "; with friction power P_f known P = (P_o + P_f) k - P_f" } else { "" };
        let formula = match &self.family {
            Family::PowerLaw(e) => law(e),
            Family::Affine(e, scale, offset, form) => {
                format!("{scale} {} - {offset}{}", law(e), friction(*form))
            }
            Family::OnIndicated(e, eta) => format!("({} - (1 - eta))/eta, eta {eta} if not given", law(e)),
            Family::NotKnown(_) => "not established".to_owned(),
            Family::EngineFactor(d) => format!(
                "f_a^f_m, f_a = {} aspirated, {} turbocharged, {} liquid-cooled; f_m = {} q/r - {}, {} below {}, {} above {}",
                law(&d.aspirated),
                law(&d.turbocharged),
                law(&d.liquid_cooled),
                d.engine_factor.slope,
                d.engine_factor.minus,
                d.engine_factor.lower,
                d.engine_factor.from,
                d.engine_factor.upper,
                d.engine_factor.to
            ),
        };
        if self.turbocharged_uncorrected { formula + "; 1 when turbocharged" } else { formula }
    }
}

fn engine_factor(fields: &Fields<'_>) -> Result<EngineFactor, DeclarationError> {
    let fuel = " mg/(l·cycle)";
    let f = EngineFactor {
        from: fields.number("from", (0.0, 1000.0), fuel)?,
        lower: fields.number("lower", (0.0, 3.0), "")?,
        to: fields.number("to", (0.0, 1000.0), fuel)?,
        upper: fields.number("upper", (0.0, 3.0), "")?,
        slope: fields.number("slope", (0.0, 1.0), " per mg/(l·cycle)")?,
        minus: fields.number("minus", NUMBER, "")?,
    };
    if f.from > f.to {
        return Err(fields.error("to", None, format!("{} below from = {}: it must not be", f.to, f.from)));
    }
    for (key, q, end) in [("lower", f.from, f.lower), ("upper", f.to, f.upper)] {
        let line = f.slope * q - f.minus;
        if (line - end).abs() > 0.01 {
            let message =
                format!("{end}, but slope and minus give {line} at {q}{fuel}: limit and value come in pairs");
            return Err(fields.error(key, None, message));
        }
    }
    fields.finish()?;
    Ok(f)
}
