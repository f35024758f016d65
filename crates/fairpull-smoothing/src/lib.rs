//! A penalised spline whose smoothness is chosen from the data, with honest variance of its value and slope.
//!
//! **Method.** Quartic B-splines on equally spaced knots with a penalty on third differences of the coefficients
//! (Eilers and Marx, Statist. Sci. 11, 1996); the weight of the penalty, its ease at the start of the curve, and the lag
//! correlation of the noise by restricted maximum likelihood (Wood, J. R. Statist. Soc. B 73, 2011). Intervals from the
//! Bayesian posterior covariance, which counts smoothing bias as well as noise (Nychka, J. Am. Statist. Ass. 83, 1988).
//!
//! **Why.** A bare difference of noisy speed has no usable variance, and a fixed filter either blurs the peak or
//! keeps the noise. Here nothing is left for the user to turn.
#![forbid(unsafe_code)]

/// A loop written out: the compiler keeps the numbers of one row in registers only where it need not count.
macro_rules! unrolled {
    ($i:ident in [$($value:literal),*] $body:block) => {
        $({ const $i: usize = $value; $body })*
    };
}

mod banded;
mod basis;
mod equations;
mod likelihood;
mod penalised;

pub use penalised::{Penalised, SmoothingError};
