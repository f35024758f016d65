//! Propagation of uncertainty, Monte Carlo, repeat statistics and the smallest detectable change.
