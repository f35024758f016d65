//! Draws beside a second implementation of the published algorithms in Python (numbers, logarithm and cosine of its own):
//! O'Neill's generator, Box and Muller's normals, Marsaglia and Tsang's gamma and strips. The same seed, the same draws.
#![allow(clippy::unwrap_used)]

use approx::assert_relative_eq;
use fairpull_uncertainty::*;

#[test]
fn plain_draws() {
    let mut random = Random::new(42);
    assert_eq!([(); 4].map(|()| random.bits()), [3270867926, 1795671209, 1924641435, 1143034755]);
    for expected in [0.9597071812239291, 0.796008183327988, 0.48016405847957105] {
        assert_eq!(random.uniform(), expected);
    }
    for expected in [0.8190430764098552, -0.13728168744710262, -0.3135168069739677] {
        assert_relative_eq!(random.normal(), expected, max_relative = 1e-14);
    }
}

/// The first three draws, the sum of the magnitudes of 4000, and where the generator stands after them: a draw more or less
/// anywhere is another place.
#[test]
fn student_draws() {
    for (dof, first, sum, after) in [
        (1.0, [-3.25486944009564, -1.3885205382663885, -0.18733712206108963], 19187.66539396682, 4150433154),
        (1.5, [-1.9966659714124104, -1.3635945812666304, -0.1991584067735073], 7645.785098355496, 1514186075),
        (2.0, [-2.110524011593212, 1.5002616801205952, 0.6218866679095436], 5699.874880746337, 3605504579),
        (2.01, [-2.1055848081148194, 1.495039054244704, 0.6206103693323395], 5727.973289153537, 517200863),
        (3.0, [-1.8211439190242025, 1.207178255114519, 0.5464435074472495], 4554.714759905621, 2774747675),
        (7.3, [-1.5487289698178608, 0.9517781767942414, 0.4745170102015757], 3607.7860289665764, 220889615),
        (60.0, [-1.3739360922131214, 0.7928481857212848, 0.42879761632589564], 3204.528835857334, 3765386652),
        (2e6, [-1.3160612972232064, -0.4029040916594907, -0.2189924577225332], 3159.2608626497326, 998166742),
    ] {
        let mut random = Random::new(7);
        let draws: Vec<f64> = (0..4000).map(|_| random.student(dof)).collect();
        for (got, expected) in draws.iter().zip(first) {
            assert_relative_eq!(*got, expected, max_relative = 1e-12);
        }
        assert_relative_eq!(draws.iter().map(|x| x.abs()).sum::<f64>(), sum, max_relative = 1e-11);
        assert_eq!(random.bits(), after, "{dof}");
    }
}

/// 200,000 draws by strips, of which 98 are beyond the lowest strip and 3046 in the corners of the others.
#[test]
fn draws_by_strips() {
    let (normals, mut random) = (Normals::new(), Random::new(11));
    let draws: Vec<f64> = (0..200_000).map(|_| normals.draw(&mut random)).collect();
    let first = [-0.20567065786298977, -0.9854811782951567, 0.9324231394676721, 0.4427688237059115];
    for (got, expected) in draws.iter().zip(first) {
        assert_relative_eq!(*got, expected, max_relative = 1e-12);
    }
    assert_relative_eq!(draws.iter().map(|x| x.abs()).sum::<f64>(), 159545.52983362164, max_relative = 1e-10);
    let ends = draws.iter().fold((0.0_f64, 0.0_f64), |(low, high), x| (low.min(*x), high.max(*x)));
    assert_relative_eq!(ends.0, -4.342211687264503, max_relative = 1e-12);
    assert_relative_eq!(ends.1, 4.6733467972381355, max_relative = 1e-12);
    assert_eq!(random.bits(), 859673050);
}
