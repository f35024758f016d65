//! From a fitted pull to power on the engine-speed grid, for one set of calibration values.
//!
//! ```text
//! contact = m_D a + F_brake + F_parasitic          m_D = J/R²            (hub rig: the torque reading)
//! hub     = contact · v_rim                        v_rim = v/(1 − κ contact)
//! crank   = loss model(hub, drag, m_rot a_rim v_rim)
//! m_rot   = (n J_w + (J_g + J_e) i²)/r²            in the coast-down without J_e
//! ```

use fairpull_core::{
    Catalogue, CoastDownForce, Corrected, DrivePoint, Driveline, EngineSpeed, Factor, LossModel, Notices,
    PowerAtCrank, PowerAtWheels, Refusal, RoadSpeed, Temperature,
};
use fairpull_humid::{Method, Moisture};

use crate::coast::CoastFit;
use crate::job::{AirReading, Job, RigKind};
use crate::pull::PullFit;
use crate::slip::Slip;

/// Loss models that speak of the power in the shafts: what accelerates engine and wheels goes through them and is not
/// theirs to add.
const SHAFT_MODELS: [&str; 4] =
    ["prior-band", "element-efficiencies", "ec-light-duty-gearbox", "eu-2017-2400"];

/// Calibration values that all pulls of a rig share, as deviations from what the job declares.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Deviation {
    /// Relative: roller inertia, force reading, roller radius, engine inertia, tyre radius.
    pub inertia: f64,
    pub force: f64,
    pub radius: f64,
    pub engine_inertia: f64,
    pub tyre: f64,
    /// Absolute: load share, slip per newton, Pa, K, relative humidity.
    pub share: f64,
    pub slip: f64,
    pub pressure: f64,
    pub temperature: f64,
    pub humidity: f64,
    /// Delay of the force channel, s.
    pub delay: f64,
    /// In standard uncertainties of the loss model's own answer: everywhere, and falling to nothing in the middle of the
    /// pull's speeds with the other sign below.
    pub loss: [f64; 2],
    /// In standard deviations of the shape that a coast-down leaves open: slope, curvature.
    pub drag: [f64; 2],
}

/// Drag to use for a pull that has no coast-down of its own.
#[derive(Clone, Debug)]
pub(crate) struct Drag {
    pub coast: Option<CoastFit>,
    pub force: Option<[f64; 3]>,
}

/// Figures of one pull on the grid; NaN where the pull does not reach.
#[derive(Clone, Debug)]
pub(crate) struct Curve {
    /// Observed power at the measuring point, W.
    pub wheel: Vec<f64>,
    /// Observed crank power, W.
    pub crank: Vec<f64>,
    /// Corrected crank power, W.
    pub corrected: Vec<f64>,
    pub factor: Factor,
    pub notices: Notices,
    /// Lost in the driveline, W.
    pub loss: Vec<f64>,
    /// Relative standard deviation of the crank power from noise and smoothing bias.
    pub noise: Vec<f64>,
    pub bias: Vec<f64>,
}

/// Everything behind one point of a pull, at a grid speed.
pub(crate) struct BalanceParts {
    pub mass: f64,
    pub parasitic: f64,
    pub rotating: f64,
    pub v: f64,
    pub a: f64,
    pub brake: f64,
    pub contact: f64,
    pub rim: f64,
    pub rim_acceleration: f64,
    /// Drag of driveline and tyres at the rim speed, N.
    pub drag: f64,
    /// Power handed to the loss model, W.
    pub handed: f64,
}

/// Mass of rig and car together at the contact, kg; on a hub rig that of the car alone, whose torque is read outside.
pub(crate) fn moving_mass(job: &Job) -> f64 {
    let v = &job.vehicle;
    let r = v.tyre_radius.value;
    let behind = (v.gearbox_inertia + v.engine_inertia.value) * v.ratio * v.ratio;
    let car = (f64::from(v.driven_wheels) * v.wheel_inertia + behind) / (r * r);
    let rig = job.rig.inertia.value / (job.rig.radius.value * job.rig.radius.value);
    if job.rig.kind == RigKind::Hub { car } else { car + rig }
}

pub(crate) struct Bench<'a> {
    pub job: &'a Job,
    pub catalogue: &'a Catalogue<'a>,
    pub standard: &'static str,
    pub loss: &'a dyn LossModel,
    pub slip: Slip,
    pub grid: &'a [f64],
}

impl Bench<'_> {
    /// Equivalent mass of the rig, kg.
    fn mass(&self, d: &Deviation) -> f64 {
        let r = self.job.rig.radius.value * (1.0 + d.radius);
        self.job.rig.inertia.value * (1.0 + d.inertia) / (r * r)
    }

    /// Rotating mass of the car at the contact, kg.
    fn rotating(&self, engaged: bool, d: &Deviation) -> f64 {
        let v = &self.job.vehicle;
        let r = v.tyre_radius.value * (1.0 + d.tyre);
        let engine = if engaged { v.engine_inertia.value * (1.0 + d.engine_inertia) } else { 0.0 };
        // travel per radian of the engine as the recordings have it: neither ratio nor tyre radius needs to be trusted
        let travel = if self.slip.measured { self.slip.rolling } else { r / v.ratio };
        f64::from(v.driven_wheels) * v.wheel_inertia / (r * r)
            + (v.gearbox_inertia + engine) / (travel * travel)
    }

    /// Power handed to the loss model, W: at the rim, with what accelerates rotating parts where the model is one of the
    /// shafts.
    fn handed(&self, at_rim: f64, accelerating: f64) -> f64 {
        let shafts = SHAFT_MODELS.contains(&self.loss.card().id);
        at_rim + if shafts { accelerating } else { 0.0 }
    }

    fn parasitic(&self, v: f64) -> f64 {
        let [a, b, c] = self.job.rig.parasitic;
        a + v * (b + v * c)
    }

    /// Contact force at a dense index of a pull, N.
    pub(crate) fn contact(&self, p: &PullFit, i: usize, d: &Deviation) -> f64 {
        let scale = 1.0 + d.radius;
        match self.job.rig.kind {
            RigKind::Hub => (p.force[i] + d.delay * p.force_rate(i)) * (1.0 + d.force),
            RigKind::BrakedRoller => {
                let force = p.force[i] + d.delay * p.force_rate(i);
                self.mass(d) * p.a[i] * scale + force * (1.0 + d.force) + self.parasitic(p.v[i])
            }
            RigKind::InertiaRoller => self.mass(d) * p.a[i] * scale + self.parasitic(p.v[i]),
        }
    }

    /// Drag of driveline and tyres as a polynomial of roller speed, with covariance.
    fn drag(&self, drag: &Drag, d: &Deviation) -> Option<CoastDownForce> {
        let coast = drag.coast.as_ref()?;
        let open = self.rotating(false, d);
        let scale = 1.0 + d.radius;
        let (mass, minus, by) = match self.job.rig.kind {
            RigKind::Hub => (open, drag.force?, 1.0 + d.force),
            _ => (self.mass(d) + open, self.job.rig.parasitic, 1.0),
        };
        let m = mass * scale;
        let mut k = coast.k;
        for (by, shape) in d.drag.iter().zip(&coast.prior) {
            for (x, s) in k.iter_mut().zip(shape) {
                *x += by * s;
            }
        }
        let mut covariance = coast.covariance;
        for row in &mut covariance {
            for x in row {
                *x *= m * m;
            }
        }
        Some(CoastDownForce {
            a: m * k[0] - by * minus[0],
            b: m * k[1] - by * minus[1],
            c: m * k[2] - by * minus[2],
            covariance,
        })
    }

    /// Factor of the basis in the air of a log.
    pub(crate) fn factor(&self, reading: &AirReading, id: &str, d: &Deviation) -> Result<Factor, Refusal> {
        let standard = self.catalogue.standard(id).ok_or(Refusal::Other {
            why: "the standard is not in the catalogue",
            cite: fairpull_core::Cite::new("catalogue", "", fairpull_core::Reading::Derived),
        })?;
        let moved = if d.pressure == 0.0 && d.temperature == 0.0 && d.humidity == 0.0 {
            reading.air
        } else {
            let p = fairpull_core::AbsolutePressure::from_pascals(reading.station.pascals() + d.pressure);
            let t = Temperature::from_kelvin(reading.temperature.kelvin() + d.temperature);
            let h = (reading.humidity + d.humidity).clamp(0.0, 1.0);
            fairpull_humid::air(p, t, Moisture::RelativeHumidity(h), &Method::default())
                .unwrap_or(reading.air)
        };
        standard.factor(&moved, &self.job.vehicle.engine)
    }

    /// Power of a pull on the grid.
    pub(crate) fn curve(
        &self,
        p: &PullFit,
        drag: &Drag,
        air: &AirReading,
        d: &Deviation,
    ) -> Result<Curve, Refusal> {
        let n = p.time.len();
        let nominal = Deviation::default();
        let factor = self.factor(air, self.standard, d)?;
        let kappa = (self.slip.per_newton + d.slip).max(0.0);
        let turning = self.rotating(true, d);
        let drag = self.drag(drag, d);
        let mut notices = Notices::NONE;
        let (slowest, fastest) = (p.v[0], p.v[n - 1]);
        let mut rim = Vec::with_capacity(n);
        let mut speed = Vec::with_capacity(n);
        let mut force = Vec::with_capacity(n);
        for i in 0..n {
            let f = self.contact(p, i, d);
            force.push(f);
            rim.push(p.v[i] * (1.0 + d.radius) / (1.0 - kappa * f));
            // a measured engine speed does not move with the calibration, one that follows from the job does
            let travel = if self.slip.measured {
                self.slip.rolling * (1.0 - self.slip.per_newton * self.contact(p, i, &nominal))
            } else {
                self.slip.rolling * (1.0 + d.tyre) * (1.0 - kappa * f) / (1.0 + d.radius)
            };
            speed.push(p.v[i] / travel * 30.0 / core::f64::consts::PI);
        }
        let (mut wheel, mut crank, mut loss) = (Vec::new(), Vec::new(), Vec::new());
        let (mut noise, mut bias) = (Vec::new(), Vec::new());
        for i in 0..n {
            let (j, k) = (i.saturating_sub(1), (i + 1).min(n - 1));
            let a_rim = (rim[k] - rim[j]) / (p.time[k] - p.time[j]);
            let mut line = Driveline::unknown();
            line.coast_down = drag;
            line.load_share = self.job.loss.share.map(|(s, u)| ((s + d.share).clamp(0.0, 0.5), u));
            line.constant_drag = self.job.loss.constant;
            let accelerating = turning * a_rim * rim[i];
            line.accelerating = Some((accelerating, 0.0));
            line.gearbox = self.job.vehicle.gearbox;
            line.direct_gear = self.job.loss.direct_gear;
            line.max_input_torque = self.job.loss.max_input_torque;
            line.driven_wheels = Some(self.job.vehicle.driven_wheels);
            line.elements = &self.job.loss.elements;
            let point =
                DrivePoint::new(RoadSpeed::from_metres_per_second(rim[i]), EngineSpeed::from_rpm(speed[i]));
            let handed = self.handed(force[i] * rim[i], accelerating);
            let hub = PowerAtWheels::from_watts(handed.max(0.0));
            let at = self.loss.to_crank(hub, &point, &line)?;
            if i == n / 2 {
                notices.extend(&at.notices);
            }
            let along = (2.0 * p.v[i] - slowest - fastest) / (fastest - slowest);
            let power = at.power.watts() + (d.loss[0] + d.loss[1] * along) * at.uncertainty;
            let observed = force[i] * p.v[i] * (1.0 + d.radius);
            wheel.push(observed);
            crank.push(power);
            loss.push(power - observed - accelerating);
            let mass = match self.job.rig.kind {
                RigKind::Hub => turning,
                _ => self.mass(d) + turning,
            };
            let own = p.force_noise.get(i).copied().unwrap_or(0.0);
            let per_watt = rim[i] / power.max(1.0);
            let smooth2 = (p.a_total[i] * p.a_total[i] - p.a_noise[i] * p.a_noise[i]).max(0.0);
            noise.push(libm::hypot(mass * p.a_noise[i], own) * per_watt);
            bias.push(mass * libm::sqrt(smooth2) * per_watt);
        }
        let on = |series: &[f64]| self.grid.iter().map(|g| read(&speed, series, *g)).collect::<Vec<f64>>();
        let crank = on(&crank);
        let corrected = crank
            .iter()
            .map(|w| Corrected::new(PowerAtCrank::from_watts(*w), self.standard, &factor).figure().watts())
            .collect();
        Ok(Curve {
            wheel: on(&wheel),
            crank,
            corrected,
            factor,
            notices,
            loss: on(&loss),
            noise: on(&noise),
            bias: on(&bias),
        })
    }

    /// Pieces of the balance where the pull passes an engine speed, for the trail.
    pub(crate) fn parts(&self, p: &PullFit, drag: &Drag, rpm: f64) -> BalanceParts {
        let d = Deviation::default();
        let n = p.time.len();
        let contact: Vec<f64> = (0..n).map(|i| self.contact(p, i, &d)).collect();
        let rim: Vec<f64> = (0..n).map(|i| p.v[i] / (1.0 - self.slip.per_newton * contact[i])).collect();
        let faster: Vec<f64> = (0..n)
            .map(|i| {
                let (j, k) = (i.saturating_sub(1), (i + 1).min(n - 1));
                (rim[k] - rim[j]) / (p.time[k] - p.time[j])
            })
            .collect();
        let speed: Vec<f64> =
            rim.iter().map(|r| r / self.slip.rolling * 30.0 / core::f64::consts::PI).collect();
        let at = |series: &[f64]| read(&speed, series, rpm);
        let (v, v_rim) = (at(&p.v), at(&rim));
        let accelerating = self.rotating(true, &d) * at(&faster) * v_rim;
        BalanceParts {
            handed: self.handed(at(&contact) * v_rim, accelerating),
            mass: self.mass(&d),
            parasitic: if self.job.rig.kind == RigKind::Hub { 0.0 } else { self.parasitic(v) },
            rotating: self.rotating(true, &d),
            v,
            a: at(&p.a),
            brake: if p.force.is_empty() { 0.0 } else { at(&p.force) },
            contact: at(&contact),
            rim: v_rim,
            rim_acceleration: at(&faster),
            drag: self.drag(drag, &d).map_or(f64::NAN, |f| f.at(v_rim)),
        }
    }

    /// Lowest and highest engine speed of a pull, 1/min.
    pub(crate) fn reach(&self, p: &PullFit) -> (f64, f64) {
        let at = |i: usize| {
            let f = self.contact(p, i, &Deviation::default());
            p.v[i] / (self.slip.rolling * (1.0 - self.slip.per_newton * f)) * 30.0 / core::f64::consts::PI
        };
        (at(0), at(p.time.len() - 1))
    }

    /// Time in the log at which a pull reaches each grid speed; NaN where it does not.
    pub(crate) fn times(&self, p: &PullFit) -> Vec<f64> {
        let speed: Vec<f64> = (0..p.time.len())
            .map(|i| {
                let f = self.contact(p, i, &Deviation::default());
                p.v[i] / (self.slip.rolling * (1.0 - self.slip.per_newton * f)) * 30.0 / core::f64::consts::PI
            })
            .collect();
        self.grid.iter().map(|g| read(&speed, &p.time, *g)).collect()
    }
}

/// Linear interpolation on a rising (nearly monotone) abscissa; NaN outside.
fn read(x: &[f64], y: &[f64], at: f64) -> f64 {
    let n = x.len();
    if n < 2 || !(at >= x[0] && at <= x[n - 1]) {
        return f64::NAN;
    }
    let (mut low, mut high) = (0, n - 1);
    while high - low > 1 {
        let mid = usize::midpoint(low, high);
        if x[mid] <= at {
            low = mid;
        } else {
            high = mid;
        }
    }
    let w = x[high] - x[low];
    if w <= 0.0 { y[low] } else { y[low] + (at - x[low]) / w * (y[high] - y[low]) }
}
