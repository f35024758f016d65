//! Road load, acceleration times and power from a speed log.
//!
//! **Scope.** [`RoadLoad`] from coefficients or from coast-downs ([`coast_down`]); [`RotatingParts`] gear by gear;
//! the forward question, which times a car of this power, mass and drag will show ([`predict`]); the inverse, which
//! power and which times a log of speed shows ([`analyse`], [`both_directions`]); and whether a dynamometer and the
//! road agree ([`cross_check`]).
//!
//! **Out of scope.** Reading log files (`fairpull-recordings`), air density (`fairpull-humid`), tyre models beyond a
//! friction limit, lateral dynamics.
//!
//! **Caution.** [`CAUTIONS`] belongs on every result.
//!
//! ```
//! use fairpull_road::{Car, Conditions, Drive, Measure, RoadLoad, Rotating, time};
//! let car = Car {
//!     mass_kg: 1575.0, rotating: Rotating::MassFactor(1.0), traction: None,
//!     load: RoadLoad { f0_n: 0.0, f1_n_per_mps: 0.0, f2_n_per_mps2: 0.0, density_kg_per_m3: 1.2 },
//!     drive: Drive::Constant { wheel_power_kw: 200.0 },
//! };
//! // t = m (v2² − v1²)/(2P)
//! let t = time(&car, Conditions::still(1.2), Measure::kmh(100.0, 200.0)).unwrap();
//! assert!((t.time_s - 9.114583333333334).abs() < 1e-9);
//! ```
#![forbid(unsafe_code)]
#![cfg_attr(docsrs, feature(doc_cfg))]

mod car;
mod coastdown;
mod cross;
mod curve;
mod directions;
mod error;
mod filter;
mod inertia;
mod interval;
mod linear;
mod load;
mod log;
mod march;
mod measure;
mod motion;
mod predict;
mod pull;
mod quadrature;
mod reader;
mod recorded;
mod slope;
mod smooth;

pub use car::{Car, Conditions, Drive, EnginePower, Geared, Rotating, ShiftAt, SpeedPower, Traction};
pub use coastdown::{
    CoastDown, CoastDownRuns, Factor, PointResult, SpeedPoint, coast_down, corrected_kmh, interval_times,
    precision_factor,
};
pub use cross::{Agreement, CrossCheck, Difference, RigPower, cross_check};
pub use directions::{BothDirections, both_directions, harmonic_mean, still_air};
pub use error::RoadError;
pub use inertia::RotatingParts;
pub use interval::Interval;
pub use load::{G, RoadLoad, default_load};
pub use log::{LogResult, LogSetup, LoggedTime, Peak, PowerAt, ShiftFound, SpeedLog, analyse};
pub use measure::{KMH_PER_MPH, Measure, QUARTER_MILE_M, ROLLOUT_M};
pub use predict::{
    CarUncertainty, Predicted, Share, Timed, power_factor_for, predict, scale_power, time, trace,
};
pub use slope::SlopeFound;

/// What has to be read before anybody drives for a figure.
pub const CAUTIONS: [&str; 3] = [
    "Road tests belong on a closed road or test track: public-road speed limits and local law apply to every run.",
    "Two people, one driving and one measuring; a long flat straight with room to stop twice over; dry surface, no traffic.",
    "Tyres, brakes and belts rated for the top speed; stop at the first sign of heat, smell, noise or warning lamp.",
];
