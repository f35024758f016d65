//! Propagation of uncertainty, Monte Carlo, repeat statistics and the smallest detectable change.
//!
//! **Scope.** Student's t (central and non-central), the law of propagation of uncertainty with correlation
//! (JCGM 100:2008), seeded Monte Carlo (JCGM 101:2008), small dense least squares with covariance, and the
//! statistics of repeats: pooled and between-group variances, Welch's comparison, smallest detectable change.
//!
//! **Out of scope.** Anything about engines. Every transcendental function comes from `libm`, sums run in a fixed
//! order and every random draw is seeded, so results are the same bits everywhere.
#![forbid(unsafe_code)]

mod dense;
mod detect;
mod monte_carlo;
mod normal;
mod propagate;
mod random;
mod repeats;
mod special;
mod student;

pub use dense::{LeastSquares, Singular, least_squares};
pub use detect::{more_repeats, smallest_detectable};
pub use monte_carlo::{Coverage, ascending, nth, probabilistically_symmetric, shortest};
pub use normal::{NormalEquations, NormalSolution};
pub use propagate::{combined_variance, effective_dof};
pub use random::{Normals, Random};
pub use repeats::{Groups, Welch, analysis_of_variance, mean_and_deviation, welch};
pub use special::{incomplete_beta, normal_cdf, normal_quantile};
pub use student::{coverage_factor, noncentral_t_cdf, t_cdf, t_quantile};
