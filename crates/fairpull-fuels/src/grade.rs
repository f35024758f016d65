//! A fuel grade: what its standard states, and the fuel to calculate with.

use fairpull_core::{Cite, Refusal, Source};

use crate::octane::{MON_UNCERTAINTY, PRECISION, RON_UNCERTAINTY, SENSITIVITY_SOURCE, USUAL_SENSITIVITY};
use crate::{Property, Stock, from_antiknock_index};

/// What kind of fuel a grade is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Kind {
    /// Sold at the pump under a standard.
    Pump,
    /// Sold at the pump; the octane number is the seller's claim, no standard fixes it.
    Practice,
    /// A neat substance: reference fuel or blending component.
    Neat,
}

/// A fuel grade with its sources. A pump grade states minima: the fuel of the day may be better, never rely on it.
#[derive(Clone, Copy, Debug)]
#[non_exhaustive]
pub struct Grade {
    /// Lower-case id, e.g. `en-228-95`.
    pub id: &'static str,
    /// Short name.
    pub title: &'static str,
    /// Kind.
    pub kind: Kind,
    /// Research octane number.
    pub ron: Option<Property>,
    /// Motor octane number.
    pub mon: Option<Property>,
    /// Antiknock index (RON + MON)/2, where the grade is sold by it.
    pub aki: Option<Property>,
    /// Density at 15 °C, kg/m³.
    pub density: Property,
    /// Lower heating value, J/kg.
    pub lower_heating_value: Property,
    /// Stoichiometric air-fuel ratio by mass.
    pub stoichiometric_ratio: Property,
    /// Heat of vaporisation at 25 °C, J/kg.
    pub heat_of_vaporisation: Property,
    /// Mean molar mass, g/mol.
    pub molar_mass: Property,
    /// Ethanol, percent by volume.
    pub ethanol: Property,
    /// What a reader has to know.
    pub note: &'static str,
}

/// The fuel of a grade, with what had to be assumed to get there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GradeStock {
    /// The fuel.
    pub stock: Stock,
    /// Assumptions, each with its source; empty slots are `None`.
    pub assumed: [Option<Source>; 2],
}

impl Grade {
    /// The fuel to calculate with: guaranteed minima of the octane numbers with the reproducibility of the test as
    /// uncertainty; a grade sold by antiknock index is split with the usual sensitivity. MON stays unknown where
    /// the standard has none.
    ///
    /// # Errors
    /// [`Refusal::Other`] when a property has no value at all, which no built-in grade does.
    pub fn stock(&self) -> Result<GradeStock, Refusal> {
        let best = |p: &Property, why| p.best().ok_or(Refusal::Other { why, cite: p.cite });
        let mut stock = Stock::petrol(None, None);
        stock.density = best(&self.density, "the grade states no density")?;
        stock.lower_heating_value = best(&self.lower_heating_value, "the grade states no heating value")?;
        stock.stoichiometric_ratio = best(&self.stoichiometric_ratio, "the grade states no air-fuel ratio")?;
        stock.heat_of_vaporisation =
            best(&self.heat_of_vaporisation, "the grade states no heat of vaporisation")?;
        stock.molar_mass = best(&self.molar_mass, "the grade states no molar mass")?;
        let mut assumed = [None, None];
        if self.kind != Kind::Neat {
            assumed[0] = Some(Source { what: "uncertainty of a stated octane number", cite: PRECISION });
        }
        let octane = |p: &Property, test: f64| {
            p.best().map(|s| {
                let u =
                    if self.kind == Kind::Neat { s.uncertainty } else { libm::hypot(s.uncertainty, test) };
                fairpull_core::Span::new(s.value, u)
            })
        };
        match (&self.aki, &self.ron) {
            (Some(aki), None) => {
                // the index is half the sum of two tests
                let test = 0.5 * libm::hypot(RON_UNCERTAINTY, MON_UNCERTAINTY);
                if let Some(aki) = octane(aki, test) {
                    let split = from_antiknock_index(aki, USUAL_SENSITIVITY)?;
                    stock.ron = Some(split.ron);
                    stock.mon = Some(split.mon);
                    stock.octane_correlation = split.correlation;
                    assumed[1] = Some(Source {
                        what: "sensitivity that splits the antiknock index",
                        cite: SENSITIVITY_SOURCE,
                    });
                }
            }
            _ => {
                stock.ron = self.ron.as_ref().and_then(|p| octane(p, RON_UNCERTAINTY));
                stock.mon = self.mon.as_ref().and_then(|p| octane(p, MON_UNCERTAINTY));
            }
        }
        Ok(GradeStock { stock, assumed })
    }

    /// The citations of every property, in the order of the fields.
    pub fn cites(&self) -> impl Iterator<Item = (&'static str, Cite)> {
        let fixed = [
            ("density", self.density.cite),
            ("lower heating value", self.lower_heating_value.cite),
            ("stoichiometric air-fuel ratio", self.stoichiometric_ratio.cite),
            ("heat of vaporisation", self.heat_of_vaporisation.cite),
            ("molar mass", self.molar_mass.cite),
            ("ethanol", self.ethanol.cite),
        ];
        let octane = [
            self.ron.map(|p| ("research octane number", p.cite)),
            self.mon.map(|p| ("motor octane number", p.cite)),
            self.aki.map(|p| ("antiknock index", p.cite)),
        ];
        octane.into_iter().flatten().chain(fixed)
    }
}
