//! Pressure loss of a pipe by its diameter: incompressible, isothermal and adiabatic (Fanno) with friction.

use fairpull_core::{Cite, Limit, Reading, Refusal};

use crate::check::{AIR_FLOW, DIAMETER, GAMMA, GAS_TEMPERATURE, LENGTH, LOSS, MECHANICS, ROUGHNESS, held};
use crate::flow::AIR_CONSTANT;
use crate::friction::{Viscosity, friction_factor};
use crate::{AbsoluteReading, Figure, TemperatureReading, figure::propagate};

/// Where the formulas stand.
pub const COMPRESSIBLE: Cite =
    Cite::new("gas dynamics of pipe flow with friction (isothermal and Fanno lines)", "", Reading::Derived);
/// Relative standard uncertainty of a calculated friction factor (common practice, no source).
pub const FRICTION_UNCERTAINTY: f64 = 0.05;
/// Relative standard uncertainty of tabulated loss coefficients (common practice, no source).
pub const LOSS_UNCERTAINTY: f64 = 0.2;
/// Mach number below which incompressible flow is good enough.
pub const INCOMPRESSIBLE_MACH: f64 = 0.3;
/// Share of the absolute pressure below which incompressible flow is good enough.
pub const INCOMPRESSIBLE_DROP: f64 = 0.1;

/// The end of the pipe at which pressure and temperature are known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Known {
    /// Inlet.
    Inlet(AbsoluteReading),
    /// Outlet, as of an exhaust that ends in the open.
    Outlet(AbsoluteReading),
}

/// A pipe with gas flowing through it. Air properties stand for exhaust gas (composition: a few per cent).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pipe {
    /// Mass flow, kg/s.
    pub mass_flow: Figure,
    /// Gas temperature at the known end.
    pub temperature: TemperatureReading,
    /// Pressure at the known end.
    pub known: Known,
    /// Inside diameter, m.
    pub diameter: f64,
    /// Length, m.
    pub length: f64,
    /// Wall roughness, m.
    pub roughness: f64,
    /// Sum of the loss coefficients of bends, entries and exits, referred to this diameter.
    pub loss_coefficients: f64,
    /// Ratio of specific heats: 1.4 air, 1.33 exhaust gas.
    pub gamma: f64,
    /// Law of the viscosity.
    pub viscosity: Viscosity,
}

/// Pressure losses of a pipe, Pa.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PipeLoss {
    /// Velocity at the known end, m/s.
    pub velocity: Figure,
    /// Mach number at the known end.
    pub mach: Figure,
    /// Reynolds number.
    pub reynolds: f64,
    /// Darcy friction factor.
    pub friction: f64,
    /// Loss of incompressible flow.
    pub incompressible: Figure,
    /// Loss at constant temperature, where the pipe can carry the flow so.
    pub isothermal: Option<Figure>,
    /// Loss without heat exchange (Fanno).
    pub adiabatic: Option<Figure>,
    /// The one to use: incompressible while Mach < 0.3 and loss < 10 % of the pressure, adiabatic above.
    pub loss: Figure,
    /// True when `loss` is the adiabatic one.
    pub compressible: bool,
}

/// One point of the calculation: plain numbers.
#[derive(Clone, Copy)]
struct Point {
    flow: f64,
    kelvin: f64,
    pressure: f64,
    friction_scale: f64,
    loss_scale: f64,
    from_inlet: bool,
}

/// Pressure losses of a pipe.
///
/// # Errors
/// [`Refusal::OutOfRange`] naming the quantity; [`Refusal::NotApplicable`] when the pipe chokes before its end.
pub fn pipe_loss(pipe: &Pipe) -> Result<PipeLoss, Refusal> {
    let (reading, from_inlet) = match pipe.known {
        Known::Inlet(p) => (p, true),
        Known::Outlet(p) => (p, false),
    };
    DIAMETER.check(pipe.diameter)?;
    LENGTH.check(pipe.length)?;
    ROUGHNESS.check(pipe.roughness)?;
    Limit { what: "wall roughness", unit: "m", low: 0.0, high: 0.05 * pipe.diameter, cite: MECHANICS }
        .check(pipe.roughness)?;
    LOSS.check(pipe.loss_coefficients)?;
    GAMMA.check(pipe.gamma)?;
    let inputs = [
        held(&AIR_FLOW, pipe.mass_flow)?,
        held(&GAS_TEMPERATURE, pipe.temperature.kelvin())?,
        reading.pascals(),
        Figure::new(1.0, FRICTION_UNCERTAINTY),
        Figure::new(1.0, LOSS_UNCERTAINTY),
    ];
    let point = |x: &[f64; 5]| Point {
        flow: x[0],
        kelvin: x[1],
        pressure: x[2],
        friction_scale: x[3],
        loss_scale: x[4],
        from_inlet,
    };
    let centre = point(&inputs.map(|i| i.value));
    let mach = propagate(inputs, |x| pipe.mach(&point(x)));
    Limit {
        what: "Mach number at the known end of the pipe",
        unit: "1",
        low: 0.0,
        high: 1.0,
        cite: COMPRESSIBLE,
    }
    .check(mach.value)?;
    let incompressible = propagate(inputs, |x| pipe.incompressible(&point(x)));
    let finite = |f: Figure| f.value.is_finite().then_some(f);
    let isothermal = finite(propagate(inputs, |x| pipe.isothermal(&point(x))));
    let adiabatic = finite(propagate(inputs, |x| pipe.adiabatic(&point(x))));
    let compressible = !(mach.value < INCOMPRESSIBLE_MACH
        && incompressible.value < INCOMPRESSIBLE_DROP * reading.pascals().value);
    let loss = if compressible {
        adiabatic.ok_or(Refusal::NotApplicable {
            why: "the flow chokes before the end of this pipe: the diameter does not carry this mass flow",
            cite: COMPRESSIBLE,
        })?
    } else {
        incompressible
    };
    Ok(PipeLoss {
        velocity: propagate(inputs, |x| pipe.velocity(&point(x))),
        mach,
        reynolds: pipe.reynolds(&centre),
        friction: pipe.friction(&centre),
        incompressible,
        isothermal,
        adiabatic,
        loss,
        compressible,
    })
}

impl Pipe {
    fn area(&self) -> f64 {
        core::f64::consts::FRAC_PI_4 * self.diameter * self.diameter
    }

    fn velocity(&self, at: &Point) -> f64 {
        at.flow * AIR_CONSTANT * at.kelvin / (at.pressure * self.area())
    }

    fn mach(&self, at: &Point) -> f64 {
        self.velocity(at) / libm::sqrt(self.gamma * AIR_CONSTANT * at.kelvin)
    }

    fn reynolds(&self, at: &Point) -> f64 {
        at.flow / self.area() * self.diameter / self.viscosity.of(at.kelvin)
    }

    fn friction(&self, at: &Point) -> f64 {
        friction_factor(self.reynolds(at), self.roughness / self.diameter)
    }

    /// f L/D + ΣK.
    fn resistance(&self, at: &Point) -> f64 {
        at.friction_scale * self.friction(at) * self.length / self.diameter
            + at.loss_scale * self.loss_coefficients
    }

    fn incompressible(&self, at: &Point) -> f64 {
        let v = self.velocity(at);
        self.resistance(at) * at.pressure / (AIR_CONSTANT * at.kelvin) * v * v / 2.0
    }

    /// p1² − p2² = G² R T (f L/D + ΣK + 2 ln(p1/p2)). NaN when the pipe cannot carry the flow.
    fn isothermal(&self, at: &Point) -> f64 {
        let flux = at.flow / self.area();
        let g = flux * flux * AIR_CONSTANT * at.kelvin / (at.pressure * at.pressure);
        let r = self.resistance(at);
        // q = p1/p2; with the inlet known 1 − 1/q² = g (r + 2 ln q), with the outlet known q² − 1 = g (r + 2 ln q)
        let miss = |q: f64| {
            let left = if at.from_inlet { 1.0 - 1.0 / (q * q) } else { q * q - 1.0 };
            left - g * (r + 2.0 * libm::log(q))
        };
        // with the inlet known the flow chokes where the pressure has fallen to √g, M = 1/√γ
        let far = if at.from_inlet { 1.0 / libm::sqrt(g) } else { 50.0 };
        // with the outlet known the relation holds only while the outlet is below that Mach number
        if g >= 1.0 || miss(far) < 0.0 {
            return f64::NAN;
        }
        let q = root(1.0, far, miss);
        if at.from_inlet { at.pressure * (1.0 - 1.0 / q) } else { at.pressure * (q - 1.0) }
    }

    /// Fanno line between the two ends. NaN when the pipe chokes.
    fn adiabatic(&self, at: &Point) -> f64 {
        let (m, r) = (self.mach(at), self.resistance(at));
        if !(m > 0.0 && m < 1.0) {
            return f64::NAN;
        }
        let here = fanno_length(m, self.gamma);
        let there = if at.from_inlet { here - r } else { here + r };
        if there < 0.0 {
            return f64::NAN;
        }
        let (low, high) = if at.from_inlet { (m, 1.0) } else { (1e-6, m) };
        let other = root(low, high, |x| there - fanno_length(x, self.gamma));
        let ratio = fanno_pressure(other, self.gamma) / fanno_pressure(m, self.gamma);
        if at.from_inlet { at.pressure * (1.0 - ratio) } else { at.pressure * (ratio - 1.0) }
    }
}

/// f L*/D of the Fanno line: length that brings the flow from this Mach number to 1.
#[must_use]
pub fn fanno_length(mach: f64, gamma: f64) -> f64 {
    let m2 = mach * mach;
    let up = (gamma + 1.0) * m2 / (2.0 + (gamma - 1.0) * m2);
    (1.0 - m2) / (gamma * m2) + (gamma + 1.0) / (2.0 * gamma) * libm::log(up)
}

/// p/p* of the Fanno line.
#[must_use]
pub fn fanno_pressure(mach: f64, gamma: f64) -> f64 {
    libm::sqrt((gamma + 1.0) / (2.0 + (gamma - 1.0) * mach * mach)) / mach
}

/// Where `f`, negative at `low`, changes sign below `high`: bisection to the last bits.
fn root(low: f64, high: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (mut a, mut b) = (low, high);
    for _ in 0..100 {
        let mid = 0.5 * (a + b);
        if f(mid) < 0.0 {
            a = mid;
        } else {
            b = mid;
        }
    }
    0.5 * (a + b)
}
