//! Blending by volume, mass and mole; octane by the linear molar rule; charge cooling by evaporation.

use fairpull_core::{Cite, Limit, Reading, Refusal, Span};

use crate::Stock;
use crate::octane::HERE;

/// The linear molar rule for ethanol in petrol.
pub const MOLAR_RULE: Cite = Cite::new(
    "Anderson et al., Energy & Fuels 24 (2010) 6576, and SAE 2012-01-1274",
    "abstracts: linear in the mole fraction explains most of the non-linearity",
    Reading::Read,
);
/// The form with one fitted parameter.
pub const MOLAR_RULE_FITTED: Cite = Cite::new(
    "Anderson and Wallington, 2020",
    "abstract: ON = (1-x) ON_base + x ON_ethanol + Z x (1-x), Z fitted per base fuel",
    Reading::Read,
);

/// In what the shares of a blend are stated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "std", derive(serde::Serialize, serde::Deserialize))]
#[cfg_attr(feature = "std", serde(rename_all = "lowercase"))]
pub enum By {
    /// Volume at 15 °C, ideal (excess volume of ethanol in petrol is below 0.3 %).
    Volume,
    /// Mass.
    Mass,
    /// Amount of substance.
    Mole,
}

/// How octane numbers of the parts combine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum OctaneRule {
    /// Linear in the mole fraction ([`MOLAR_RULE`]); the published rule for alcohols in petrol.
    Molar,
    /// Linear in the mole fraction plus Z·x·(1 − x), x being the mole fraction of the *last* part
    /// ([`MOLAR_RULE_FITTED`]); Z is fitted per base fuel, for RON and MON apart.
    MolarFitted {
        /// Z of the research octane number.
        z_ron: f64,
        /// Z of the motor octane number.
        z_mon: f64,
    },
    /// Linear in volume: the definition of primary reference fuels (iso-octane in n-heptane), and a first guess
    /// between hydrocarbon petrols.
    Volumetric,
}

/// One part of a blend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// The fuel.
    pub stock: Stock,
    /// Its share, 0 to 1.
    pub share: f64,
}

static SHARE: Limit = Limit { what: "share of a blend part", unit: "1", low: 0.0, high: 1.0, cite: HERE };
static SUM: Limit = Limit {
    what: "sum of the shares of a blend",
    unit: "1",
    low: 1.0 - 1e-6,
    high: 1.0 + 1e-6,
    cite: Cite::new("fairpull", "the parts make the whole", Reading::Derived),
};

/// Blends fuels. Heating value, air-fuel ratio and heat of vaporisation go by mass, volumes add ideally, octane
/// numbers by `rule`; an octane number is given only when every part with a share has it.
///
/// # Errors
/// [`Refusal::OutOfRange`] for a share outside 0 to 1, shares that do not add up to 1 (within 1e-6), or a property
/// no motor fuel has.
pub fn blend(parts: &[Part], by: By, rule: OctaneRule) -> Result<Stock, Refusal> {
    let mut total = 0.0;
    for part in parts {
        SHARE.check(part.share)?;
        part.stock.check()?;
        total += part.share;
    }
    SUM.check(total)?;
    // kilograms of each part in the given amount of blend
    let mass = |p: &Part| match by {
        By::Volume => p.share * p.stock.density.value,
        By::Mass => p.share,
        By::Mole => p.share * p.stock.molar_mass.value,
    };
    let moles = |p: &Part| mass(p) / p.stock.molar_mass.value;
    let volume = |p: &Part| mass(p) / p.stock.density.value;
    let sum = |f: &dyn Fn(&Part) -> f64| parts.iter().map(f).fold(0.0, |a, b| a + b);
    let (m, n, v) = (sum(&mass), sum(&moles), sum(&volume));
    let by_mass = |pick: &dyn Fn(&Stock) -> Span| weigh(parts, &|p| Some(pick(&p.stock)), &|p| mass(p) / m);
    let zero = Span::new(0.0, 0.0);
    let last = parts.last().map_or(0.0, |p| moles(p) / n);
    let bend = last * (1.0 - last);
    let weight = |p: &Part| match rule {
        OctaneRule::Molar | OctaneRule::MolarFitted { .. } => moles(p) / n,
        OctaneRule::Volumetric => volume(p) / v,
    };
    let z = match rule {
        OctaneRule::MolarFitted { z_ron, z_mon } => [z_ron, z_mon],
        OctaneRule::Molar | OctaneRule::Volumetric => [0.0, 0.0],
    };
    let octane = |pick: &dyn Fn(&Stock) -> Option<Span>, z: f64| {
        weigh(parts, &|p| pick(&p.stock), &weight).map(|s| Span::new(s.value + z * bend, s.uncertainty))
    };
    let blended = Stock {
        ron: octane(&|s| s.ron, z[0]),
        mon: octane(&|s| s.mon, z[1]),
        octane_correlation: parts
            .iter()
            .map(|p| weight(p) * p.stock.octane_correlation)
            .fold(0.0, |a, b| a + b),
        density: Span::new(m / v, spread(parts, &|s| s.density, &|p| volume(p) / v)),
        lower_heating_value: by_mass(&|s| s.lower_heating_value).unwrap_or(zero),
        stoichiometric_ratio: by_mass(&|s| s.stoichiometric_ratio).unwrap_or(zero),
        heat_of_vaporisation: by_mass(&|s| s.heat_of_vaporisation).unwrap_or(zero),
        molar_mass: Span::new(m / n, spread(parts, &|s| s.molar_mass, &|p| moles(p) / n)),
    };
    blended.check()?;
    Ok(blended)
}

/// Weighted mean with independent uncertainties; nothing when a part with weight has no value.
fn weigh(
    parts: &[Part],
    pick: &dyn Fn(&Part) -> Option<Span>,
    weight: &dyn Fn(&Part) -> f64,
) -> Option<Span> {
    let (mut value, mut square) = (0.0, 0.0);
    for part in parts.iter().filter(|p| p.share > 0.0) {
        let (span, w) = (pick(part)?, weight(part));
        value += w * span.value;
        square += w * w * span.uncertainty * span.uncertainty;
    }
    Some(Span::new(value, libm::sqrt(square)))
}

fn spread(parts: &[Part], pick: &dyn Fn(&Stock) -> Span, weight: &dyn Fn(&Part) -> f64) -> f64 {
    weigh(parts, &|p| Some(pick(&p.stock)), weight).map_or(0.0, |s| s.uncertainty)
}

/// Mole fraction of a fuel of volume share `share` in a base.
///
/// # Errors
/// [`Refusal::OutOfRange`] for a share outside 0 to 1 or impossible properties.
pub fn mole_fraction(share: f64, added: &Stock, base: &Stock) -> Result<f64, Refusal> {
    SHARE.check(share)?;
    added.check()?;
    base.check()?;
    let a = share * added.density.value / added.molar_mass.value;
    let b = (1.0 - share) * base.density.value / base.molar_mass.value;
    Ok(a / (a + b))
}

/// Heat capacity of air at constant pressure for [`charge_cooling`], J/(kg·K).
pub const AIR_HEAT_CAPACITY: f64 = 1006.0;
/// Heat capacity of liquid fuel for [`charge_cooling`], J/(kg·K).
pub const FUEL_HEAT_CAPACITY: f64 = 2200.0;

/// Upper bound of the charge cooling by evaporation, K: all heat comes from the charge,
/// ΔT = h_fg / (AFR·cp_air + cp_fuel). `lambda` is the relative air-fuel ratio, 0.3 to 3.
///
/// # Errors
/// [`Refusal::OutOfRange`] for a lambda outside its range or impossible properties.
pub fn charge_cooling(stock: &Stock, lambda: f64) -> Result<Span, Refusal> {
    stock.check()?;
    let lambda = Limit { what: "relative air-fuel ratio", unit: "1", low: 0.3, high: 3.0, cite: HERE }
        .check(lambda)?;
    let capacity = lambda * stock.stoichiometric_ratio.value * AIR_HEAT_CAPACITY + FUEL_HEAT_CAPACITY;
    let heat = stock.heat_of_vaporisation;
    let value = heat.value / capacity;
    let by_ratio = value * lambda * AIR_HEAT_CAPACITY * stock.stoichiometric_ratio.uncertainty / capacity;
    Ok(Span::new(value, libm::hypot(heat.uncertainty / capacity, by_ratio)))
}

/// Octane numbers of neat ethanol used by the molar rule: RON 109, MON 90 (from memory of the papers above; other
/// sources print 108/92 and 108.0/90.7).
pub const ETHANOL_OCTANE: [Span; 2] = [Span::new(109.0, 0.6), Span::new(90.0, 0.9)];
