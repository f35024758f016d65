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
use crate::deviation::Deviation;
use crate::job::{AirReading, Job, RigKind};
use crate::place::Place;
use crate::pull::PullFit;
use crate::slip::Slip;

/// Loss models that speak of the power in the shafts: what accelerates engine and wheels goes through them and is not
/// theirs to add.
const SHAFT_MODELS: [&str; 4] =
    ["prior-band", "element-efficiencies", "ec-light-duty-gearbox", "eu-2017-2400"];

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
    ways: Vec<Option<Way>>,
    pub factor: Factor,
    pub notices: Notices,
    /// Lost in the driveline, W.
    pub loss: Vec<f64>,
    /// Relative standard deviation of the crank power from noise and smoothing bias.
    pub noise: Vec<f64>,
    pub bias: Vec<f64>,
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
    pub(crate) fn mass(&self, d: &Deviation) -> f64 {
        let r = self.job.rig.radius.value * (1.0 + d.radius);
        self.job.rig.inertia.value * (1.0 + d.inertia) / (r * r)
    }

    /// Rotating mass of the car at the contact, kg.
    pub(crate) fn rotating(&self, engaged: bool, d: &Deviation) -> f64 {
        let v = &self.job.vehicle;
        let r = v.tyre_radius.value * (1.0 + d.tyre);
        let engine = if engaged { v.engine_inertia.value * (1.0 + d.engine_inertia) } else { 0.0 };
        // travel per radian of the engine as the recordings have it: neither ratio nor tyre radius needs to be trusted
        let travel = if self.slip.measured { self.slip.rolling * (1.0 + d.radius) } else { r / v.ratio };
        f64::from(v.driven_wheels) * v.wheel_inertia / (r * r)
            + (v.gearbox_inertia + engine) / (travel * travel)
    }

    /// Power handed to the loss model, W: at the rim, with what accelerates rotating parts where the model is one of the
    /// shafts.
    pub(crate) fn handed(&self, at_rim: f64, accelerating: f64) -> f64 {
        let shafts = SHAFT_MODELS.contains(&self.loss.card().id);
        at_rim + if shafts { accelerating } else { 0.0 }
    }

    pub(crate) fn parasitic(&self, v: f64) -> f64 {
        let [a, b, c] = self.job.rig.parasitic;
        a + v * (b + v * c)
    }

    /// Contact force along a pull, N.
    pub(crate) fn contact(&self, p: &PullFit, d: &Deviation) -> Vec<f64> {
        let scale = 1.0 + d.radius;
        let mass = self.mass(d) * scale;
        let brake = |i: usize| {
            let late = if d.delay == 0.0 { 0.0 } else { d.delay * p.force_rate(i) };
            (p.force[i] + late) * (1.0 + d.force)
        };
        let rows = 0..p.time.len();
        match self.job.rig.kind {
            // torque over the radius of the tyre
            RigKind::Hub => rows.map(|i| brake(i) / (1.0 + d.tyre)).collect(),
            RigKind::BrakedRoller => {
                rows.map(|i| mass * p.a[i] + brake(i) + self.parasitic(p.v[i] * scale)).collect()
            }
            RigKind::InertiaRoller => rows.map(|i| mass * p.a[i] + self.parasitic(p.v[i] * scale)).collect(),
        }
    }

    /// Engine speed along a pull that has the contact force `force` when nothing deviates, 1/min.
    pub(crate) fn speed(&self, p: &PullFit, force: &[f64]) -> Vec<f64> {
        let turn = 30.0 / core::f64::consts::PI;
        let travel = |f: f64| self.slip.rolling * (1.0 - self.slip.per_newton * f);
        p.v.iter().zip(force).map(|(v, f)| v / travel(*f) * turn).collect()
    }

    /// Where a pull with engine speed `speed` passes the grid; none where it does not reach.
    pub(crate) fn places(&self, speed: &[f64]) -> Vec<Option<Place>> {
        self.grid.iter().map(|g| Place::of(speed, *g)).collect()
    }

    /// Drag of driveline and tyres as a polynomial of roller speed, with covariance.
    pub(crate) fn drag(&self, drag: &Drag, d: &Deviation) -> Option<CoastDownForce> {
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
            // the coast-down was fitted over speeds that a moved radius scales too
            a: m * k[0] - by * minus[0],
            b: m / scale * k[1] - by * minus[1],
            c: m / (scale * scale) * k[2] - by * minus[2],
            covariance,
        })
    }

    /// Factor of the basis in the air of a log.
    pub(crate) fn factor(&self, reading: &AirReading, id: &str, d: &Deviation) -> Result<Factor, Refusal> {
        let standard = self.catalogue.standard(id).ok_or(Refusal::Other {
            why: "the standard is not in the catalogue",
            cite: fairpull_core::Cite::new("catalogue", "", fairpull_core::Reading::Derived),
        })?;
        let moved = if !d.of_air() {
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
        places: &[Option<Place>],
    ) -> Result<Curve, Refusal> {
        let d = Deviation::default();
        let factor = self.factor(air, self.standard, &d)?;
        let turning = self.rotating(true, &d);
        let mut notices = Notices::NONE;
        let ways = self.ways(p, places, &d);
        let points = self.points(&ways, drag, &d, &mut notices)?;
        let mass = match self.job.rig.kind {
            RigKind::Hub => turning,
            _ => self.mass(&d) + turning,
        };
        let on = |of: &dyn Fn(&Point, &Place) -> f64| -> Vec<f64> {
            points
                .iter()
                .zip(places)
                .map(|(point, place)| match (point, place) {
                    (Some(point), Some(place)) => of(point, place),
                    _ => f64::NAN,
                })
                .collect()
        };
        let per_watt = |x: &Point| x.rim / x.crank.max(1.0);
        let force_noise =
            |place: &Place| if p.force_noise.is_empty() { 0.0 } else { place.read(&p.force_noise) };
        Ok(Curve {
            wheel: on(&|x, _| x.wheel),
            crank: on(&|x, _| x.crank),
            corrected: on(&|x, _| self.corrected(x.crank, &factor)),
            ways,
            factor,
            notices,
            loss: on(&|x, _| x.lost),
            noise: on(&|x, place| {
                libm::hypot(mass * place.read(&p.a_noise), force_noise(place)) * per_watt(x)
            }),
            bias: on(&|x, place| {
                let (total, noise) = (place.read(&p.a_total), place.read(&p.a_noise));
                mass * libm::sqrt((total * total - noise * noise).max(0.0)) * per_watt(x)
            }),
        })
    }

    /// Change of the logarithms of observed wheel power and corrected crank power of a pull on the grid with other
    /// calibration values. What does not move is taken from `nominal`.
    pub(crate) fn moved(
        &self,
        p: &PullFit,
        drag: &Drag,
        air: &AirReading,
        places: &[Option<Place>],
        nominal: &Curve,
        d: &Deviation,
    ) -> Result<Vec<(f64, f64)>, Refusal> {
        let factor = if d.of_air() {
            ratio(self.factor(air, self.standard, d)?.value() / nominal.factor.value())
        } else {
            0.0
        };
        let powered =
            nominal.wheel.iter().zip(&nominal.crank).map(|(wheel, crank)| *wheel > 0.0 && *crank > 0.0);
        if d.of_air_alone() {
            return Ok(powered.map(|p| if p { (0.0, factor) } else { (f64::NAN, f64::NAN) }).collect());
        }
        let mut said_before = Notices::NONE;
        let lost = |ways: &[Option<Way>], notices| self.points(ways, drag, d, notices);
        let points = if d.of_losses_alone() {
            lost(&nominal.ways, &mut said_before)?
        } else {
            let elsewhere = (!self.slip.measured).then(|| self.places(&self.moved_speed(p, d)));
            lost(&self.ways(p, elsewhere.as_deref().unwrap_or(places), d), &mut said_before)?
        };
        let before = nominal.wheel.iter().zip(&nominal.crank);
        let pair = |((point, (wheel, crank)), powered): ((&Option<Point>, (&f64, &f64)), bool)| match point {
            Some(x) if powered && x.crank > 0.0 => (ratio(x.wheel / wheel), factor + ratio(x.crank / crank)),
            _ => (f64::NAN, f64::NAN),
        };
        Ok(points.iter().zip(before).zip(powered).map(pair).collect())
    }

    fn corrected(&self, crank: f64, factor: &Factor) -> f64 {
        Corrected::new(PowerAtCrank::from_watts(crank), self.standard, factor).figure().watts()
    }

    /// Engine speed of a pull where it follows from the job, 1/min: unlike a measured one it moves with the calibration.
    fn moved_speed(&self, p: &PullFit, d: &Deviation) -> Vec<f64> {
        let kappa = (self.slip.per_newton + d.slip).max(0.0);
        let turn = 30.0 / core::f64::consts::PI;
        let travel = |f: f64| self.slip.rolling * (1.0 + d.tyre) * (1.0 - kappa * f) / (1.0 + d.radius);
        p.v.iter().zip(self.contact(p, d)).map(|(v, f)| v / travel(f) * turn).collect()
    }

    /// How a pull passes each place of the grid.
    fn ways(&self, p: &PullFit, places: &[Option<Place>], d: &Deviation) -> Vec<Option<Way>> {
        let n = p.time.len();
        let kappa = (self.slip.per_newton + d.slip).max(0.0);
        let turning = self.rotating(true, d);
        let force = self.contact(p, d);
        let rim: Vec<f64> =
            p.v.iter().zip(&force).map(|(v, f)| v * (1.0 + d.radius) / (1.0 - kappa * f)).collect();
        let faster = |i: usize| {
            let (j, k) = (i.saturating_sub(1), (i + 1).min(n - 1));
            (rim[k] - rim[j]) / (p.time[k] - p.time[j])
        };
        let (slowest, fastest) = (p.v[0], p.v[n - 1]);
        let shafts = SHAFT_MODELS.contains(&self.loss.card().id);
        let at = |(place, rpm): (&Option<Place>, &f64)| {
            let place = place.as_ref()?;
            let (v, f, rim) = (place.read(&p.v), place.read(&force), place.read(&rim));
            let accelerating = turning * place.between(faster(place.low), faster(place.low + 1)) * rim;
            Some(Way {
                rpm: *rpm,
                wheel: f * v * (1.0 + d.radius),
                hub: (f * rim + if shafts { accelerating } else { 0.0 }).max(0.0),
                accelerating,
                rim,
                along: (2.0 * v - slowest - fastest) / (fastest - slowest),
            })
        };
        places.iter().zip(self.grid).map(at).collect()
    }

    /// Powers of a pull at each place of the grid; `notices` takes what the loss model says in the middle.
    fn points(
        &self,
        ways: &[Option<Way>],
        drag: &Drag,
        d: &Deviation,
        notices: &mut Notices,
    ) -> Result<Vec<Option<Point>>, Refusal> {
        let mut line = Driveline::unknown();
        line.coast_down = self.drag(drag, d);
        line.load_share = self.job.loss.share.map(|(s, u)| ((s + d.share).clamp(0.0, 0.5), u));
        line.constant_drag = self.job.loss.constant;
        line.gearbox = self.job.vehicle.gearbox;
        line.direct_gear = self.job.loss.direct_gear;
        line.max_input_torque = self.job.loss.max_input_torque;
        line.driven_wheels = Some(self.job.vehicle.driven_wheels);
        line.elements = &self.job.loss.elements;
        let middle = ways.iter().flatten().count() / 2;
        let mut passed = 0;
        let mut out = Vec::with_capacity(ways.len());
        for way in ways {
            let Some(way) = way else {
                out.push(None);
                continue;
            };
            line.accelerating = Some((way.accelerating, 0.0));
            let point =
                DrivePoint::new(RoadSpeed::from_metres_per_second(way.rim), EngineSpeed::from_rpm(way.rpm));
            let given = self.loss.to_crank(PowerAtWheels::from_watts(way.hub), &point, &line)?;
            let crank = given.power.watts() + (d.loss[0] + d.loss[1] * way.along) * given.uncertainty;
            if passed == middle {
                notices.extend(&given.notices);
            }
            passed += 1;
            out.push(Some(Point {
                wheel: way.wheel,
                crank,
                lost: crank - way.wheel - way.accelerating,
                rim: way.rim,
            }));
        }
        Ok(out)
    }
}

/// How a pull passes a point of the grid: engine speed, 1/min, powers at the measuring point, handed to the loss model and
/// into what turns faster, W, speed at the rim, m/s, and the place of the roller speed in the pull, −1 to 1.
#[derive(Clone, Debug)]
struct Way {
    rpm: f64,
    wheel: f64,
    hub: f64,
    accelerating: f64,
    rim: f64,
    along: f64,
}

/// Logarithm of a ratio, nearly always one close to 1: 2 artanh((x − 1)/(x + 1)) by its series, the term left out below
/// 1e-16. A step that takes a small power below nothing counts as it is.
fn ratio(x: f64) -> f64 {
    let z = (x - 1.0) / (x + 1.0);
    let z2 = z * z;
    if z2 < 4e-4 {
        return 2.0 * z * (1.0 + z2 * (1.0 / 3.0 + z2 * (0.2 + z2 * (1.0 / 7.0 + z2 / 9.0))));
    }
    if x > 0.0 { libm::log(x) } else { x - 1.0 }
}

/// Powers of one pull at a point of the grid, W, and the speed at the rim, m/s.
struct Point {
    wheel: f64,
    crank: f64,
    lost: f64,
    rim: f64,
}

#[cfg(test)]
#[path = "evaluate_edges.rs"]
mod edges;
