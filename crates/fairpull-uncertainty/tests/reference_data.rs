//! NIST Statistical Reference Datasets: certified values of hard regressions and univariate sets.
use approx::assert_relative_eq;
use fairpull_uncertainty::*;

/// Longley (J. Am. Statist. Ass. 62, 1967): seven nearly collinear columns.
#[test]
fn longley() {
    let (mut rows, mut y) = (Vec::new(), Vec::new());
    for line in include_str!("longley.txt").lines().filter(|l| !l.starts_with('#')) {
        let v: Vec<f64> = line.split_whitespace().map(|t| t.parse().unwrap()).collect();
        y.push(v[0]);
        rows.push(core::iter::once(1.0).chain(v[1..].iter().copied()).collect::<Vec<f64>>());
    }
    assert_eq!(y.len(), 16);
    let fit = least_squares(&rows, &y, &[1.0; 16]).unwrap();
    let certified = [
        (-3482258.6345958184, 890420.3836073725),
        (15.061872271373295, 84.91492577476694),
        (-0.035819179292591014, 0.03349100777224319),
        (-2.020229803816825, 0.48839968165169945),
        (-1.033226867173592, 0.21427416316167527),
        (-0.051104105653580714, 0.22607320006937034),
        (1829.1514646135518, 455.478499142212),
    ];
    for (i, (value, error)) in certified.iter().enumerate() {
        assert_relative_eq!(fit.coefficients[i], value, max_relative = 1e-7);
        assert_relative_eq!(libm::sqrt(fit.variance * fit.unscaled[i][i]), error, max_relative = 1e-7);
    }
    assert_relative_eq!(libm::sqrt(fit.variance), 304.8540735619648, max_relative = 1e-9);
}

fn polynomial(x: impl Iterator<Item = f64>) -> Vec<Vec<f64>> {
    x.map(|x| {
        let mut row = vec![1.0];
        for k in 1..6 {
            row.push(row[k - 1] * x);
        }
        row
    })
    .collect()
}

/// Wampler1 and Wampler2: exact polynomials of degree 5.
#[test]
fn wampler_exact() {
    let rows = polynomial((0..21).map(f64::from));
    let one: Vec<f64> = rows.iter().map(|r| r.iter().sum()).collect();
    assert_eq!(one[20], 3_368_421.0);
    for b in least_squares(&rows, &one, &[1.0; 21]).unwrap().coefficients {
        assert_relative_eq!(b, 1.0, epsilon = 1e-6);
    }
    let two: Vec<f64> =
        polynomial((0..21).map(|x| f64::from(x) / 10.0)).iter().map(|r| r.iter().sum()).collect();
    let mut expected = 1.0;
    for b in least_squares(&rows, &two, &[1.0; 21]).unwrap().coefficients {
        assert_relative_eq!(b, expected, max_relative = 1e-7);
        expected *= 0.1;
    }
}

/// Wampler3: the same polynomial with errors (data from memory, proven by the certified standard errors).
#[test]
fn wampler_with_errors() {
    let y = [
        760.0, -2042.0, 2111.0, -1684.0, 3888.0, 1858.0, 11379.0, 17560.0, 39287.0, 64382.0, 113159.0,
        175108.0, 273291.0, 400186.0, 581243.0, 811568.0, 1121004.0, 1506550.0, 2002767.0, 2611612.0,
        3369180.0,
    ];
    let fit = least_squares(&polynomial((0..21).map(f64::from)), &y, &[1.0; 21]).unwrap();
    let errors = [
        2152.3262467816967,
        2363.5517346968054,
        779.3435243315831,
        101.47550755034965,
        5.645665121707515,
        0.11232485467931194,
    ];
    for (i, error) in errors.iter().enumerate() {
        assert_relative_eq!(fit.coefficients[i], 1.0, max_relative = 1e-6);
        assert_relative_eq!(libm::sqrt(fit.variance * fit.unscaled[i][i]), error, max_relative = 1e-9);
    }
    assert_relative_eq!(libm::sqrt(fit.variance), 2360.1450237926765, max_relative = 1e-10);
}

/// Columns that are the same are refused, not solved.
#[test]
fn dependent_columns_are_refused() {
    let rows: Vec<Vec<f64>> = (0..9).map(|i| vec![1.0, f64::from(i), 2.0 * f64::from(i)]).collect();
    assert_eq!(least_squares(&rows, &[0.0; 9], &[1.0; 9]), Err(Singular));
    assert_eq!(least_squares(&rows[..2], &[0.0; 2], &[1.0; 2]), Err(Singular));
}

/// NumAcc1 to NumAcc4 (generated as the sets define them, from memory): stiff means and deviations.
#[test]
fn numerical_accuracy() {
    let alternating = |first: f64, low: f64, high: f64| -> Vec<f64> {
        core::iter::once(first).chain((0..1000).map(|i| if i % 2 == 0 { low } else { high })).collect()
    };
    for (set, mean, deviation, digits) in [
        (vec![10000001.0, 10000003.0, 10000002.0], 10000002.0, 1.0, 1e-14),
        (alternating(1.2, 1.1, 1.3), 1.2, 0.1, 1e-12),
        (alternating(1000000.2, 1000000.1, 1000000.3), 1000000.2, 0.1, 1e-8),
        (alternating(10000000.2, 10000000.1, 10000000.3), 10000000.2, 0.1, 1e-7),
    ] {
        let (m, s) = mean_and_deviation(&set);
        assert_relative_eq!(m, mean, max_relative = 1e-13);
        assert_relative_eq!(s, deviation, max_relative = digits);
    }
}
