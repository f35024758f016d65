//! Repeats, least squares, intervals of samples and random draws at their ends, beside numpy 2.4 and scipy 1.17.1.
#![allow(clippy::unwrap_used)]

use approx::assert_relative_eq;
use fairpull_uncertainty::*;

/// Groups of 3, 1, none, 2 and 4 (scipy `f_oneway`: F = 6.632 028; ISO 5725-2 for the rest, by numpy).
#[test]
fn groups_of_unlike_size() {
    let groups: Vec<Vec<f64>> =
        vec![vec![1.2, 1.9, 1.4], vec![2.6], vec![], vec![3.1, 2.2], vec![0.4, 1.1, 0.9, 1.6]];
    let a = analysis_of_variance(&groups).unwrap();
    assert_relative_eq!(a.within, 0.4839077046985992, max_relative = 1e-13);
    assert_eq!(a.within_dof, 6.0);
    assert_relative_eq!(a.between, 0.7518073461428041, max_relative = 1e-12);
    assert_relative_eq!(a.f_ratio, 6.632028469750893, max_relative = 1e-12);
    // nothing between groups of one mean; one group alone has no ratio
    let even = analysis_of_variance(&[vec![1.0, 3.0], vec![1.5, 2.5]]).unwrap();
    assert_eq!((even.between, even.f_ratio), (0.0, 0.0));
    let alone = analysis_of_variance(&[vec![1.0, 3.0]]).unwrap();
    assert_eq!((alone.between, alone.within_dof), (0.0, 1.0));
    assert_relative_eq!(alone.within, libm::sqrt(2.0), max_relative = 1e-15);
    assert!(alone.f_ratio.is_nan());
    assert!(analysis_of_variance(&[vec![1.0], vec![2.0], vec![]]).is_none());
    assert!(analysis_of_variance(&[]).is_none());
}

/// A constant on all values moves the means and nothing else, also where it is most of each value.
#[test]
fn a_constant_moves_no_scatter() {
    let near: Vec<Vec<f64>> = vec![vec![1.25, 1.875, 1.5], vec![2.625, 0.5], vec![3.125, 2.25, 0.375]];
    let far: Vec<Vec<f64>> = near.iter().map(|g| g.iter().map(|x| x + 1_073_741_824.0).collect()).collect();
    let (a, b) = (analysis_of_variance(&near).unwrap(), analysis_of_variance(&far).unwrap());
    assert_relative_eq!(a.within, b.within, max_relative = 1e-7);
    assert_relative_eq!(a.f_ratio, b.f_ratio, max_relative = 1e-6);
    assert_relative_eq!(mean_and_deviation(&near[0]).1, mean_and_deviation(&far[0]).1, max_relative = 1e-7);
}

#[test]
fn too_few_repeats() {
    assert_eq!(mean_and_deviation(&[4.0]).0, 4.0);
    assert!(mean_and_deviation(&[4.0]).1.is_nan());
    assert_eq!(mean_and_deviation(&[1.0, 3.0]), (2.0, libm::sqrt(2.0)));
    assert!(welch(&[1.0], &[1.0, 2.0]).is_none());
    assert!(welch(&[1.0, 2.0], &[1.0]).is_none());
    // two and two, scipy `ttest_ind(equal_var=False)`
    let w = welch(&[1.0, 2.0], &[4.0, 7.0]).unwrap();
    assert_eq!(w.difference, 4.0);
    assert_relative_eq!(w.error, libm::sqrt(2.5), max_relative = 1e-15);
    assert_relative_eq!(w.dof, 6.25 / (0.0625 + 5.0625), max_relative = 1e-14);
}

/// A parabola through seven points of unlike weight (normal equations by numpy).
#[test]
fn weighted_parabola() {
    let x = [0.5, 1.1, 1.9, 3.2, 4.0, 5.5, 6.1];
    let y = [2.1, 1.7, 3.9, 4.2, 6.6, 7.1, 9.9];
    let w = [1.0, 4.0, 0.25, 2.0, 9.0, 1.0, 0.5];
    let rows: Vec<Vec<f64>> = x.iter().map(|x| vec![1.0, *x, x * x]).collect();
    let fit = least_squares(&rows, &y, &w).unwrap();
    let coefficients = [0.3263079899734111, 1.5478491580167113, -0.014816065688609381];
    let unscaled = [
        [0.6919491250767279, -0.4594086904061159, 0.06654020821380158],
        [-0.4594086904061167, 0.3996536849783985, -0.0654545807146834],
        [0.06654020821380174, -0.06545458071468345, 0.011424196979218584],
    ];
    for i in 0..3 {
        assert_relative_eq!(fit.coefficients[i], coefficients[i], max_relative = 1e-11);
        for j in 0..3 {
            assert_relative_eq!(fit.unscaled[i][j], unscaled[i][j], max_relative = 1e-11);
        }
    }
    assert_relative_eq!(fit.variance, 1.512884275933318, max_relative = 1e-12);
    assert_eq!(fit.dof, 4.0);
    // the sign of a column turns that of its coefficient alone: pivots of both signs
    let turned: Vec<Vec<f64>> = rows.iter().map(|r| vec![-r[0], r[1], -r[2]]).collect();
    let other = least_squares(&turned, &y, &w).unwrap();
    for (i, sign) in [-1.0, 1.0, -1.0].into_iter().enumerate() {
        assert_relative_eq!(other.coefficients[i], sign * fit.coefficients[i], max_relative = 1e-12);
    }
    // as many points as unknowns: through all of them, and nothing left to tell the noise from
    let exact = least_squares(&rows[..3], &y[..3], &w[..3]).unwrap();
    for (row, y) in rows.iter().zip(&y).take(3) {
        let at: f64 = row.iter().zip(&exact.coefficients).map(|(a, b)| a * b).sum();
        assert_relative_eq!(at, *y, max_relative = 1e-12);
    }
    assert_eq!(exact.dof, 0.0);
    assert!(exact.variance.is_nan());
}

#[test]
fn ill_posed_squares_are_refused() {
    let row = |a: f64, b: f64| vec![a, b];
    let rows = [row(1.0, 2.0), row(3.0, 5.0), row(4.0, 1.0)];
    let fit = |rows: &[Vec<f64>], n: usize, w: &[f64]| least_squares(rows, &vec![1.0; n], w);
    assert!(fit(&rows, 3, &[1.0; 3]).is_ok());
    assert_eq!(fit(&rows, 2, &[1.0; 3]), Err(Singular));
    assert_eq!(fit(&rows, 4, &[1.0; 3]), Err(Singular));
    assert_eq!(fit(&rows, 3, &[1.0; 2]), Err(Singular));
    assert_eq!(fit(&rows[..1], 1, &[1.0]), Err(Singular));
    assert_eq!(fit(&[], 0, &[]), Err(Singular));
    assert_eq!(fit(&[vec![], vec![]], 2, &[1.0; 2]), Err(Singular));
    assert_eq!(fit(&[row(1.0, 2.0), vec![1.0], row(1.0, 1.0)], 3, &[1.0; 3]), Err(Singular));
    // a column of nothing, of infinity, or weights that leave one row
    assert_eq!(fit(&[row(0.0, 2.0), row(0.0, 5.0), row(0.0, 1.0)], 3, &[1.0; 3]), Err(Singular));
    assert_eq!(fit(&[row(f64::INFINITY, 2.0), row(1.0, 5.0), row(1.0, 1.0)], 3, &[1.0; 3]), Err(Singular));
    assert_eq!(fit(&rows, 3, &[1.0, 0.0, 0.0]), Err(Singular));
    // nearly dependent columns pass down to 1e-13 of their length
    let near = |e: f64| fit(&[row(1.0, 1.0), row(1.0, 1.0 + e), row(1.0, 1.0)], 3, &[1.0; 3]);
    assert!(near(1e-11).is_ok());
    assert_eq!(near(1e-14), Err(Singular));
}

/// Normal equations of few and many rows, some without a share in a column, against orthogonal triangularisation of the
/// same rows; too few rows determine nothing.
#[test]
fn normal_equations_of_any_number_of_rows() {
    let value = |i: usize| {
        let x = 0.37 * i as f64 - 9.0;
        let row = [if i.is_multiple_of(2) { -x } else { x }, if i < 7 { 0.0 } else { -1.0 - 0.01 * x * x }];
        (row, libm::sin(x))
    };
    for n in [9, 10, 50, 51, 120] {
        let mut normal = NormalEquations::<2>::default();
        (0..n).map(value).for_each(|(row, y)| normal.push(&row, y));
        let (rows, y): (Vec<Vec<f64>>, Vec<f64>) = (0..n).map(value).map(|(r, y)| (r.to_vec(), y)).unzip();
        let all = least_squares(&rows, &y, &vec![1.0; n]).unwrap();
        let got = normal.solve().unwrap();
        for a in 0..2 {
            assert_relative_eq!(got.coefficients[a], all.coefficients[a], max_relative = 1e-11);
            for b in 0..2 {
                assert_relative_eq!(
                    got.unscaled[a][b],
                    all.unscaled[a][b],
                    max_relative = 1e-10,
                    epsilon = 1e-15
                );
            }
        }
        assert_relative_eq!(got.residual, all.variance * all.dof, max_relative = 1e-11);
    }
    let mut late = NormalEquations::<2>::new();
    (0..7).map(value).for_each(|(row, y)| late.push(&row, y));
    assert!(late.solve().is_none());
    late.know(1, 0.5, 2.0);
    assert_relative_eq!(late.solve().unwrap().coefficients[1], 0.5);
}

/// JCGM 101:2008, 7.7: q = pM (+ ½), r = (M − q)/2 rounded, from sorted draws whose places are their values.
#[test]
fn places_of_an_interval() {
    let upward = |n: usize| -> Vec<f64> { (0..n).rev().map(|i| i as f64).collect() };
    let symmetric = |n: usize, p: f64| probabilistically_symmetric(&mut upward(n), p).unwrap();
    let ends = |c: Coverage| (c.low, c.high);
    assert_eq!(ends(symmetric(1000, 0.95)), (25.0, 975.0));
    assert_eq!(ends(symmetric(11, 0.5)), (2.0, 8.0));
    assert_eq!(ends(symmetric(10, 0.95)), (0.0, 9.0));
    assert_eq!(ends(symmetric(1, 0.95)), (0.0, 0.0));
    assert!(probabilistically_symmetric(&mut [], 0.95).is_none());
    assert!(shortest(&mut [], 0.95).is_none());
    // the gap moves the shortest interval away from it
    let mut gapped: Vec<f64> = (0..100).map(|i| if i < 10 { i as f64 - 50.0 } else { i as f64 }).collect();
    assert_eq!(ends(shortest(&mut gapped, 0.8).unwrap()), (10.0, 90.0));
    assert_eq!(ends(shortest(&mut [5.0], 0.95).unwrap()), (5.0, 5.0));
    // equal widths: the lowest
    assert_eq!(ends(shortest(&mut upward(100), 0.5).unwrap()), (0.0, 50.0));
    // 4 × 0.624375 + ½ is a little less than 3, 4 × 0.625625 + ½ a little more
    let four = [0.0, 1.0, 3.0, 10.0];
    assert_eq!(ends(shortest(&mut four.clone(), 0.624_375).unwrap()), (0.0, 3.0));
    assert_eq!(ends(shortest(&mut four.clone(), 0.625_625).unwrap()), (0.0, 10.0));
    assert_eq!(ends(probabilistically_symmetric(&mut four.clone(), 0.624_375).unwrap()), (1.0, 10.0));
    assert_eq!(ends(probabilistically_symmetric(&mut four.clone(), 0.625_625).unwrap()), (0.0, 10.0));
    let mut x = [3.0, f64::NAN, -1.0, 2.0];
    assert_eq!(nth(&mut x, 1), 2.0);
    assert!(nth(&mut x, 3).is_nan() && nth(&mut x, 4).is_nan() && nth(&mut [], 0).is_nan());
}

/// The shortest interval of a skewed distribution: gamma of shape 2 as the sum of two exponential draws (scipy:
/// 0.0423 to 4.7652; equal tails 0.2422 to 5.5716).
#[test]
fn shortest_of_a_skewed_distribution() {
    let mut random = Random::new(5);
    let mut exponential = || -libm::log(random.uniform());
    let mut draws: Vec<f64> = (0..400_000).map(|_| exponential() + exponential()).collect();
    let c = shortest(&mut draws, 0.95).unwrap();
    assert_relative_eq!(c.low, 0.04235, epsilon = 0.02);
    assert_relative_eq!(c.high, 4.76515, epsilon = 0.04);
    let c = probabilistically_symmetric(&mut draws, 0.95).unwrap();
    assert_relative_eq!(c.low, 0.24221, epsilon = 0.01);
    assert_relative_eq!(c.high, 5.57164, epsilon = 0.04);
}

/// The generator's published check output at seed 42 (O'Neill's own listing of the one-sequence generator, from memory).
#[test]
fn the_generator_is_the_published_one() {
    let mut random = Random::new(42);
    let drawn: [u32; 6] = core::array::from_fn(|_| random.bits());
    assert_eq!(drawn, [0xc2f57bd6, 0x6b07c4a9, 0x72b7b29b, 0x44215383, 0xf5af5ead, 0x68beb632]);
    // 53 bits of two words: 27 of the first, 26 of the second
    let (high, low) = (f64::from(drawn[0] >> 5), f64::from(drawn[1] >> 6));
    let expected = (high * 67_108_864.0 + low + 0.5) / 9_007_199_254_740_992.0;
    assert_eq!(Random::new(42).uniform(), expected);
}

/// Student draws below one degree of freedom over two (the gamma sampler's other branch) and far above.
#[test]
fn student_draws_have_the_quantiles_of_student() {
    for dof in [1.0, 1.5, 3.0, 20.0, 1e7] {
        let mut random = Random::new(17);
        let n = 100_000;
        let draws: Vec<f64> = (0..n).map(|_| random.student(dof)).collect();
        for p in [0.05, 0.25, 0.5, 0.8, 0.975] {
            let at = t_quantile(p, dof);
            let share = draws.iter().filter(|x| **x < at).count() as f64 / f64::from(n);
            let sd = libm::sqrt(p * (1.0 - p) / f64::from(n));
            assert!((share - p).abs() < 4.5 * sd, "{dof} {p}: {share}");
        }
    }
}

/// The mean of ln|t| in closed form, ½(ψ(½) − ψ(ν/2) + ln ν), and its scatter: a scale half a percent off shows.
#[test]
fn student_draws_have_the_mean_logarithm_of_student() {
    let ln2 = core::f64::consts::LN_2;
    // ψ(½) − ψ(ν/2): 0, −2 ln 2, −2, −3/2 − 2 ln 2
    for (dof, difference) in [(1.0, 0.0), (2.0, -2.0 * ln2), (3.0, -2.0), (6.0, -1.5 - 2.0 * ln2)] {
        let mut random = Random::new(23);
        let logs: Vec<f64> = (0..1_000_000).map(|_| libm::log(random.student(dof).abs())).collect();
        let (mean, deviation) = mean_and_deviation(&logs);
        let expected = 0.5 * (difference + libm::log(dof));
        assert!((mean - expected).abs() < 3.0 * deviation / 1e3, "{dof}: {mean} {expected} {deviation}");
    }
}

/// Draws by strips: the tail beyond the last strip as often and as far out as a normal distribution has it.
#[test]
fn the_tail_of_strips() {
    let (normals, mut random) = (Normals::default(), Random::new(9));
    let n = 4_000_000;
    let far: Vec<f64> = (0..n).map(|_| normals.draw(&mut random)).filter(|x| x.abs() > 3.0).collect();
    for at in [3.0, 3.2, 3.4, 3.5, 3.7, 4.0, 4.4] {
        for side in [-1.0, 1.0] {
            let expected = f64::from(n) * normal_cdf(-at);
            let got = far.iter().filter(|x| side * **x > at).count() as f64;
            assert!((got - expected).abs() < 4.5 * libm::sqrt(expected), "{at} {side}: {got} {expected}");
        }
    }
    assert!(far.iter().all(|x| x.abs() < 7.0));
}
