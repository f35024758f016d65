use super::*;

fn near(got: f64, expected: f64, by: f64) {
    assert!((got - expected).abs() <= by, "{got} {expected}");
}

fn trace(time: &[f64], speed: &[f64], force: &[f64]) -> Trace {
    Trace {
        engine: vec![f64::NAN; time.len()],
        throttle: Vec::new(),
        breaks: Vec::new(),
        row: None,
        time: time.to_vec(),
        speed: speed.to_vec(),
        force: force.to_vec(),
    }
}

/// Without a pull that shows it: 30 ms ± 30 ms, and 15 % of it for what a filter hides.
#[test]
fn the_prior_alone() {
    let d = estimate(&[], 1000.0);
    near(d.seconds, 0.03, 1e-15);
    near(d.uncertainty, libm::hypot(0.03, 0.0045), 1e-15);
    assert!(!d.measured);
    let still = trace(&[0.0, 1.0, 2.0], &[10.0; 3], &[]);
    assert_eq!(estimate(&[(&still, 0..3)], 1000.0), d);
    // a force that never pulls, and one without readings
    let none = trace(&[0.0, 1.0, 2.0], &[10.0; 3], &[-5.0; 3]);
    assert_eq!(estimate(&[(&none, 1..3)], 1000.0), d);
}

/// The integral of straight pieces, inside, at the rows, and over a missing reading.
#[test]
fn the_integral_of_the_force() {
    let t = trace(&[0.0, 1.0, 3.0, 4.0], &[0.0; 4], &[2.0, 4.0, 0.0, 6.0]);
    let c = Cumulative::new(&t).unwrap();
    for (at, force, integral) in [
        (0.0, 2.0, 0.0),
        (0.5, 3.0, 1.25),
        (1.0, 4.0, 3.0),
        (2.0, 2.0, 6.0),
        (3.0, 0.0, 7.0),
        (3.5, 3.0, 7.75),
        (4.0, 6.0, 10.0),
    ] {
        near(c.force(at), force, 1e-14);
        near(c.at(at), integral, 1e-14);
    }
    assert_eq!(c.end(), 4.0);
    let gap = trace(&[0.0, 1.0, 2.0], &[0.0; 3], &[2.0, f64::NAN, 4.0]);
    let c = Cumulative::new(&gap).unwrap();
    near(c.at(1.0), 2.0, 1e-15);
    near(c.at(2.0), 5.0, 1e-15);
    assert!(Cumulative::new(&trace(&[0.0], &[0.0], &[])).is_none());
}

/// Each row gets what the channel said later, between its rows; the last rows keep the last reading.
#[test]
fn a_shift_reads_between_rows() {
    let mut t = trace(&[0.0, 1.0, 2.0, 4.0], &[0.0; 4], &[1.0, 3.0, 7.0, 5.0]);
    remove(&mut t, 0.5);
    assert_eq!(t.force, [2.0, 5.0, 6.5, 5.0]);
    remove(&mut t, 0.0);
    assert_eq!(t.force, [2.0, 5.0, 6.5, 5.0]);
    let mut far = trace(&[0.0, 1.0, 2.0, 4.0], &[0.0; 4], &[1.0, 3.0, 7.0, 5.0]);
    remove(&mut far, 1.5);
    assert_eq!(far.force, [5.0, 6.5, 5.5, 5.0]);
    let mut missing = trace(&[0.0, 1.0, 2.0], &[0.0; 3], &[1.0, f64::NAN, 4.0]);
    remove(&mut missing, 0.25);
    assert_eq!(missing.force[0], 1.0);
    assert!(missing.force[1].is_nan());
}

/// From where the force is 93 % of its most in the last 1.6 s before the pull, to 1.6 s into it; not across a restart of
/// the clock, and not with a hole.
#[test]
fn the_window_around_the_take_up() {
    let time: Vec<f64> = (0..400).map(|i| 0.02 * f64::from(i)).collect();
    let speed = vec![10.0; 400];
    // on from row 60, the pull begins at row 120
    let force: Vec<f64> = (0..400).map(|i| if i < 60 { 100.0 } else { 1000.0 }).collect();
    let mut t = trace(&time, &speed, &force);
    assert_eq!(window(&t, 120..400), Some(60..200));
    // no further back than 1.6 s
    assert_eq!(window(&t, 200..400), Some(121..280));
    assert_eq!(window(&t, 120..160), Some(60..160));
    t.breaks = vec![90];
    assert_eq!(window(&t, 120..400), Some(90..200));
    t.breaks.clear();
    t.force.iter_mut().take(75).for_each(|f| *f = f.min(925.0));
    assert_eq!(window(&t, 120..400), Some(75..200));
    t.force.iter_mut().skip(60).take(15).for_each(|f| *f = 935.0);
    assert_eq!(window(&t, 120..400), Some(60..200));
    // 25 rows are too few
    assert_eq!(window(&t, 120..121), Some(60..121));
    t.force = vec![1000.0; 400];
    t.breaks = vec![110];
    assert_eq!(window(&t, 120..135), None);
    assert_eq!(window(&t, 120..136), Some(110..136));
    t.time.iter_mut().skip(130).for_each(|x| *x += 0.19);
    assert_eq!(window(&t, 120..400), None);
    t.time.iter_mut().skip(130).for_each(|x| *x -= 0.02);
    assert!(window(&t, 120..400).is_some());
}
