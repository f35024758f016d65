//! The search for the weight at its edges: lanes that have no fit, ends of the scan, steps that are golden sections, and
//! the last step.
use super::*;
use crate::basis::Basis;

fn problem(y: impl Fn(f64) -> f64) -> (Equations, Soft) {
    let t: Vec<f64> = (0..240).map(|i| 0.02 * f64::from(i)).collect();
    let y: Vec<f64> = t.iter().map(|t| y(*t) + 0.02 * libm::sin(1e5 * t * t)).collect();
    let basis = Basis { start: 0.0, width: 4.78 / 47.0, intervals: 47 };
    (Equations::new(&basis, &t, &y), Soft::new(basis.len() - ORDER))
}

/// Against the root of the slope by differences of the fourth order, from guesses to both sides.
#[test]
fn the_last_step_ends_where_the_slope_is_nothing() {
    let (equations, soft) = problem(|t| libm::sin(2.0 * t));
    let penalty = soft.differences(0);
    let mut all = Likelihood::new(&equations, [1; LANES], [&penalty; LANES]);
    let mut slope = |x: f64| {
        let h = 0.05;
        let f = all.criteria([x - 2.0 * h, x - h, x + h, x + 2.0 * h, x, x]);
        (f[0] - f[3] + 8.0 * (f[2] - f[1])) / (12.0 * h)
    };
    let near = even(&equations, &soft)[1].0;
    let (mut low, mut high) = (near - 0.3, near + 0.3);
    assert!(slope(low) < 0.0 && slope(high) > 0.0);
    while high - low > 1e-12 {
        let mid = 0.5 * (low + high);
        if slope(mid) < 0.0 { low = mid } else { high = mid }
    }
    let settle = |off: f64| settled(&equations, &penalty, 1, low + off) - low;
    for (off, within) in [(0.0, 5e-8), (0.02, 2e-6), (0.1, 2e-4), (0.25, 2.5e-3)] {
        assert!(libm::fabs(settle(off)) < within && libm::fabs(settle(-off)) < within, "{off}");
    }
    // beyond the six points a polynomial says nothing
    for off in [-1.0, -0.2535, 0.2535, 1.0] {
        assert_eq!(settle(off), low + off - low);
    }
}

#[test]
fn the_nearest_place_of_the_scan() {
    for place in 0..POINTS {
        for off in [-0.49, 0.0, 0.49] {
            assert_eq!(Scan::near(Scan::at(place) + off * STEP), place);
        }
    }
    assert_eq!((Scan::near(-99.0), Scan::near(99.0)), (0, POINTS - 1));
    assert_eq!((Scan::at(0), Scan::at(11)), (-14.0, 20.0));
}

/// The lowest point of a parabola is met at once; elsewhere the longer side is divided by the golden section.
#[test]
fn next_places() {
    let points = |f: fn(f64) -> f64, x: [f64; 3]| x.map(|x| (x, f(x)));
    for x in [[0.0, 1.0, 5.0], [-2.0, 1.5, 1.75], [1.25, 1.5, 8.0]] {
        let three = points(|x| 3.0 * (x - 1.3) * (x - 1.3) + 2.0, x);
        assert!(libm::fabs(next(&three, &three) - 1.3) < 1e-14);
    }
    let golden = 0.5 * (3.0 - libm::sqrt(5.0));
    let ends = [(0.0, 2.0), (1.0, 1.0), (5.0, 2.0)];
    let turned = [(-5.0, 2.0), (-1.0, 1.0), (0.0, 2.0)];
    for outside in [-3.0, 9.0, 0.0, 5.0] {
        let lowest =
            [outside - 1.0, outside + 2.0, outside + 4.0].map(|x| (x, (x - outside) * (x - outside)));
        assert!(libm::fabs(next(&ends, &lowest) - (1.0 + 4.0 * golden)) < 1e-14);
    }
    let level = [(-4.0, 1.0), (-1.0, 1.0), (0.0, 1.0)];
    assert!(libm::fabs(next(&turned, &level) - (-1.0 - 4.0 * golden)) < 1e-14);
    // the best place itself says nothing new; of two sides as long the left one is divided
    let even = [(-1.0, 2.0), (0.0, 1.0), (1.0, 2.0)];
    assert!(libm::fabs(next(&even, &even) + golden) < 1e-15);
}

/// Of four points the best stays with its neighbours; of as good ones the earlier.
#[test]
fn three_of_four() {
    let three = [(0.0, 3.0), (1.0, 1.0), (4.0, 3.0)];
    for (new, kept) in [
        ((0.5, 0.5), [three[0], (0.5, 0.5), three[1]]),
        ((2.0, 0.5), [three[1], (2.0, 0.5), three[2]]),
        ((0.5, 2.0), [(0.5, 2.0), three[1], three[2]]),
        ((2.0, 2.0), [three[0], three[1], (2.0, 2.0)]),
        ((2.0, 1.0), [three[0], three[1], (2.0, 1.0)]),
        ((0.5, 1.0), [(0.5, 1.0), three[1], three[2]]),
        ((1.0, 0.5), [three[1], (1.0, 0.5), three[2]]),
    ] {
        let mut got = three;
        enclose(&mut got, new);
        assert_eq!(got, kept);
    }
    for (three, replaced) in [
        ([(0.0, 2.0), (1.0, 2.0), (2.0, 1.0)], 0),
        ([(0.0, 1.0), (1.0, 3.0), (2.0, 3.0)], 1),
        ([(0.0, 1.0), (1.0, 2.0), (2.0, 3.0)], 2),
    ] {
        let mut got = three;
        replace_highest(&mut got, (9.0, 9.0));
        for i in 0..3 {
            assert_eq!(got[i], if i == replaced { (9.0, 9.0) } else { three[i] });
        }
    }
}

/// A penalty that is negative in a row or two of one lane: no fit there, the others as they were.
#[test]
fn a_lane_without_a_fit() {
    let (equations, soft) = problem(|t| t);
    let penalty = soft.differences(0);
    let mut all = Likelihood::new(&equations, [0, 1, 2, 3, 4, 5], [&penalty; LANES]);
    let whole = all.criteria([3.0; LANES]);
    assert!(whole.iter().all(|f| f.is_finite()));
    for lane in 0..LANES {
        // two negative pivots have a positive product
        for rows in [vec![0], vec![20], vec![penalty.len() - 1], vec![1, 9], vec![33, 40]] {
            let mut broken = penalty.clone();
            rows.iter().for_each(|row| broken[*row][0] = -1e3);
            let penalties = core::array::from_fn(|m| if m == lane { &broken } else { &penalty });
            let mut all = Likelihood::new(&equations, [0, 1, 2, 3, 4, 5], penalties);
            let found = all.criteria([3.0; LANES]);
            for m in 0..LANES {
                assert_eq!(found[m], if m == lane { f64::INFINITY } else { whole[m] }, "{lane} {rows:?}");
            }
        }
    }
}

/// Samples about a parabola ask for the heaviest weight, a curve that bends from sample to sample for the lightest: there
/// is nothing beyond to enclose the best with. With the heaviest, products of pivots are beyond the range of numbers.
#[test]
fn the_ends_of_the_scan() {
    let (equations, soft) = problem(|t| 3.0 - t * t);
    for (at, criterion) in even(&equations, &soft) {
        assert_eq!(at, 20.0);
        assert!(criterion.is_finite());
    }
    let t: Vec<f64> = (0..240).map(|i| 0.02 * f64::from(i)).collect();
    let basis = Basis { start: 0.0, width: 4.78 / 47.0, intervals: 47 };
    let turns = |j: usize| if j.is_multiple_of(2) { 1.0 } else { -1.0 };
    let wild = |t: &f64| {
        let (first, b) = basis.values(*t);
        (0..5).map(|k| turns(first + k) * b[k]).sum()
    };
    let y: Vec<f64> = t.iter().map(wild).collect();
    let equations = Equations::new(&basis, &t, &y);
    assert_eq!(even(&equations, &soft)[0].0, -14.0);
}
