//! The zero-dimensional spark-ignition cycle from intake valve closing, with the induction-time integral.
//!
//! ```text
//! V(θ) = Vc + A[l + a − (a cos θ + √(l² − a² sin² θ))]      Vc = Vd/(r − 1)       θ = 0 at firing top dead centre
//! dp/dθ = [(γ − 1)(Q dx/dθ − dQw/dθ) − γ p dV/dθ]/V         T = pV/(mR)           γ(T) = 1.338 − 6e-5 T + 1e-8 T²
//! dQw/dθ = h Ah (T − Tw)/(6 n)      h = 3.26 B^−0.2 p_kPa^0.8 T^−0.55 w^0.8       w = 2.28 Sp (+ burn term)
//! dI/dθ = 1/(6 n τ₁₀₀(p, Tu))       Tu = T_ivc (p/p_ivc)^((γu − 1)/γu)            x = 1 − exp(−a ((θ − θs)/D)^(m+1))
//! ```

use fairpull_core::{Cite, CycleState, Reading, Refusal};

use crate::choices::{Choices, check};

use crate::delay::{ACTIVATION, ATMOSPHERE, PREFACTOR, PRESSURE_EXPONENT};

/// Heat release.
pub const WIEBE: Cite =
    Cite::new("Heywood, Internal Combustion Engine Fundamentals (1988)", "9.2", Reading::Remembered);
/// Wall heat transfer.
pub const WOSCHNI: Cite =
    Cite::new("Woschni, SAE 670931 (1967)", "heat transfer coefficient", Reading::Remembered);
/// Ratio of specific heats of the charge.
pub const GAMMA: Cite =
    Cite::new("Brunt and Emtage, SAE 970037 (1997)", "gamma of temperature", Reading::Remembered);

/// Gas constant of the charge, J/(kg·K).
pub const GAS_CONSTANT: f64 = 275.0;
/// Polytropic exponent of the motored pressure in the wall heat transfer.
const MOTORED_EXPONENT: f64 = 1.32;
const RADIAN: f64 = core::f64::consts::PI / 180.0;
/// Where the closed cycle ends, degrees: about exhaust valve opening.
pub const END: f64 = 130.0;
/// Step through the compression, degrees, as a multiple of the step through the burn.
const COARSE: f64 = 2.0;

/// Pressure (Pa), wall heat so far (J), induction-time integral for octane number 100, work so far (J).
pub(crate) type Gas = [f64; 4];

/// A cycle ready to be integrated.
#[derive(Clone, Copy, Debug)]
pub struct Cycle {
    pub(crate) state: CycleState,
    pub(crate) choices: Choices,
    area: f64,
    crank: f64,
    clearance: f64,
    /// Swept volume, m³.
    pub(crate) swept: f64,
    volume_ivc: f64,
    mass: f64,
    heat: f64,
    piston_speed: f64,
    // constants of the right-hand side, so that each evaluation takes few logarithms
    log_h: f64,
    log_w_motored: f64,
    burn_term: f64,
    log_motored: f64,
    unburned_exponent: f64,
    log_ivc: f64,
    log_rate: f64,
    per_degree: f64,
}

impl Cycle {
    /// Checks a state and prepares its cycle.
    ///
    /// # Errors
    /// [`Refusal::OutOfRange`] naming the quantity, with the range of road-going engines.
    pub fn new(state: &CycleState, choices: &Choices) -> Result<Self, Refusal> {
        let (s, c) = (state, choices);
        check(s, c)?;
        let area = core::f64::consts::FRAC_PI_4 * s.bore * s.bore;
        let swept = area * s.stroke;
        let mut cycle = Self {
            state: *s,
            choices: *c,
            area,
            crank: 0.5 * s.stroke,
            clearance: swept / (s.compression_ratio - 1.0),
            swept,
            volume_ivc: 0.0,
            mass: 0.0,
            heat: 0.0,
            piston_speed: 2.0 * s.stroke * s.speed_rpm / 60.0,
            log_h: 0.0,
            log_w_motored: 0.0,
            burn_term: 0.0,
            log_motored: 0.0,
            unburned_exponent: (c.unburned_gamma - 1.0) / c.unburned_gamma,
            log_ivc: libm::log(s.ivc_pressure),
            log_rate: 0.0,
            per_degree: 1.0 / (6.0 * s.speed_rpm),
        };
        cycle.volume_ivc = cycle.volume(s.ivc_angle);
        cycle.mass = s.ivc_pressure * cycle.volume_ivc / (GAS_CONSTANT * s.ivc_temperature);
        let fuel = cycle.mass * (1.0 - s.residual_fraction) / (1.0 + s.air_fuel_ratio);
        cycle.heat = fuel * c.lower_heating_value * c.combustion_efficiency;
        // log of 3.26 B^-0.2 (p/1000)^0.8, pressure itself added at each evaluation
        cycle.log_h = libm::log(3.26) - 0.2 * libm::log(s.bore) - 0.8 * libm::log(1000.0);
        cycle.log_w_motored = libm::log(2.28 * cycle.piston_speed);
        cycle.burn_term = 3.24e-3 * swept * s.ivc_temperature / (s.ivc_pressure * cycle.volume_ivc);
        cycle.log_motored = cycle.log_ivc + MOTORED_EXPONENT * libm::log(cycle.volume_ivc);
        cycle.log_rate = libm::log(cycle.per_degree / PREFACTOR) - PRESSURE_EXPONENT * libm::log(ATMOSPHERE);
        Ok(cycle)
    }

    /// The same cycle with another start of burning; nothing else depends on it.
    pub(crate) const fn starting(mut self, burn_start: f64) -> Self {
        self.state.burn_start = burn_start;
        self
    }

    /// Volume at a crank angle, m³.
    #[must_use]
    pub fn volume(&self, angle: f64) -> f64 {
        let (sin, cos) = libm::sincos(angle * RADIAN);
        self.geometry(sin, cos).0
    }

    fn geometry(&self, sin: f64, cos: f64) -> (f64, f64) {
        let (a, l) = (self.crank, self.state.rod);
        let root = libm::sqrt(l * l - a * a * sin * sin);
        let volume = self.clearance + self.area * (l + a - (a * cos + root));
        (volume, self.area * RADIAN * (a * sin + a * a * sin * cos / root))
    }

    /// Trapped mass, kg.
    #[must_use]
    pub const fn mass(&self) -> f64 {
        self.mass
    }

    /// Heat released by the fuel if all of it burns, J.
    #[must_use]
    pub const fn heat(&self) -> f64 {
        self.heat
    }

    /// Angle at which the burn limit is reached, degrees.
    #[must_use]
    pub fn limit_angle(&self) -> f64 {
        let c = &self.choices;
        let x = libm::pow(-libm::log(1.0 - c.burn_limit) / c.wiebe_a, 1.0 / (c.wiebe_m + 1.0));
        self.state.burn_start + self.state.burn_duration * x
    }

    /// Burned fraction at a crank angle.
    #[must_use]
    pub fn burned(&self, angle: f64) -> f64 {
        let x = (angle - self.state.burn_start) / self.state.burn_duration;
        if x <= 0.0 {
            return 0.0;
        }
        1.0 - libm::exp(-self.choices.wiebe_a * libm::pow(x, self.choices.wiebe_m + 1.0))
    }

    /// Temperature of the unburned charge at a pressure (Pa), K.
    #[must_use]
    pub fn unburned_temperature(&self, pressure: f64) -> f64 {
        self.state.ivc_temperature * libm::exp(self.unburned_exponent * (libm::log(pressure) - self.log_ivc))
    }

    /// Mean gas temperature, K.
    pub(crate) fn temperature(&self, pressure: f64, volume: f64) -> f64 {
        pressure * volume / (self.mass * GAS_CONSTANT)
    }

    pub(crate) fn slope(&self, angle: f64, gas: &Gas, burning: bool) -> Gas {
        let (s, c) = (&self.state, &self.choices);
        let (sin, cos) = libm::sincos(angle * RADIAN);
        let (volume, per_degree) = self.geometry(sin, cos);
        let pressure = gas[0];
        let temperature = self.temperature(pressure, volume);
        let gamma = 1.338 - 6.0e-5 * temperature + 1.0e-8 * temperature * temperature;
        let (log_p, log_t) = (libm::log(pressure), libm::log(temperature));
        let (mut release, mut log_w) = (0.0, self.log_w_motored);
        if burning {
            let x = (angle - s.burn_start) / s.burn_duration;
            if x > 0.0 {
                let power = libm::pow(x, c.wiebe_m);
                release = self.heat * c.wiebe_a * (c.wiebe_m + 1.0) * power / s.burn_duration
                    * libm::exp(-c.wiebe_a * power * x);
            }
            let motored = libm::exp(self.log_motored - MOTORED_EXPONENT * libm::log(volume));
            let w = 2.28 * self.piston_speed + self.burn_term * libm::fmax(pressure - motored, 0.0);
            log_w = libm::log(w);
        }
        let h = c.heat_factor * libm::exp(self.log_h + 0.8 * (log_p + log_w) - 0.55 * log_t);
        let walls = 2.0 * self.area + 4.0 * volume / s.bore;
        let wall_heat = h * walls * (temperature - c.wall_temperature) * self.per_degree;
        let unburned = s.ivc_temperature * libm::exp(self.unburned_exponent * (log_p - self.log_ivc));
        let rate = libm::exp(self.log_rate + PRESSURE_EXPONENT * log_p - ACTIVATION / unburned);
        let dp = ((gamma - 1.0) * (release - wall_heat) - gamma * pressure * per_degree) / volume;
        [dp, wall_heat, rate, pressure * per_degree]
    }

    /// One classical fourth-order Runge-Kutta step.
    pub(crate) fn step(&self, angle: f64, gas: &Gas, width: f64, burning: bool) -> Gas {
        let ahead = |k: &Gas, by: f64| core::array::from_fn(|i| gas[i] + by * k[i]);
        let k1 = self.slope(angle, gas, burning);
        let k2 = self.slope(angle + 0.5 * width, &ahead(&k1, 0.5 * width), burning);
        let k3 = self.slope(angle + 0.5 * width, &ahead(&k2, 0.5 * width), burning);
        let k4 = self.slope(angle + width, &ahead(&k3, width), burning);
        core::array::from_fn(|i| gas[i] + width / 6.0 * (k1[i] + 2.0 * (k2[i] + k3[i]) + k4[i]))
    }

    /// State at intake valve closing.
    pub(crate) const fn closing(&self) -> Gas {
        [self.state.ivc_pressure, 0.0, 0.0, 0.0]
    }

    /// Integrates over a segment in equal steps; `visit` sees angle, state and width before each step and stops the
    /// integration by returning false.
    pub(crate) fn segment(
        &self,
        from: f64,
        to: f64,
        start: Gas,
        burning: bool,
        mut visit: impl FnMut(f64, &Gas, f64) -> bool,
    ) -> Result<Gas, Refusal> {
        let span = to - from;
        if span <= 0.0 {
            return Ok(start);
        }
        let step = if burning { self.choices.step } else { COARSE * self.choices.step };
        let count = libm::ceil(span / step - 1e-9) as u32;
        let width = span / f64::from(count);
        let mut gas = start;
        for i in 0..count {
            let angle = from + f64::from(i) * width;
            if !visit(angle, &gas, width) {
                return Ok(gas);
            }
            gas = self.step(angle, &gas, width, burning);
            if !(gas[0] > 0.0 && gas[0].is_finite() && gas[2].is_finite()) {
                return Err(Refusal::NoConvergence { what: "pressure of the closed cycle" });
            }
        }
        Ok(gas)
    }

    /// State at the start of burning.
    pub(crate) fn compress(&self) -> Result<Gas, Refusal> {
        self.segment(self.state.ivc_angle, self.state.burn_start, self.closing(), false, |_, _, _| true)
    }

    /// I₁₀₀ up to the burn limit, from a state at the start of burning.
    pub(crate) fn integral_from(&self, start: Gas) -> Result<f64, Refusal> {
        let end = self.segment(self.state.burn_start, self.limit_angle(), start, true, |_, _, _| true)?;
        Ok(end[2])
    }

    /// Octane number that this cycle requires: the one number that all fuels are compared with.
    ///
    /// # Errors
    /// [`Refusal::NoConvergence`] when the pressure leaves the positive finite numbers.
    pub fn required_octane(&self) -> Result<f64, Refusal> {
        Ok(crate::delay::required_octane(self.integral_from(self.compress()?)?))
    }
}
