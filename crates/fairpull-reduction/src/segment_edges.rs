//! What counts as a pull and as its coast-down, from both sides of each limit.

use crate::segment::{Found, find};
use crate::trace::Trace;

/// Pieces of driving: seconds, acceleration m/s², engine speed over speed (none: 90 rad/s, clutch open).
type Piece = (f64, f64, Option<f64>);

fn drive(from: f64, pieces: &[Piece]) -> Trace {
    driven(50.0, from, pieces)
}

fn driven(rate: f64, from: f64, pieces: &[Piece]) -> Trace {
    let (mut time, mut speed, mut engine) = (Vec::new(), Vec::new(), Vec::new());
    let mut v = from;
    for (seconds, a, ratio) in pieces {
        for _ in 0..libm::round(seconds * rate) as usize {
            time.push(time.len() as f64 / rate);
            speed.push(v);
            engine.push(ratio.map_or(90.0, |r| r * v));
            v += a / rate;
        }
    }
    Trace { time, speed, engine, force: Vec::new(), throttle: Vec::new(), breaks: Vec::new(), row: None }
}

const IN_GEAR: Option<f64> = Some(17.0);

fn pull(seconds: f64) -> [Piece; 3] {
    [(2.0, 0.0, IN_GEAR), (seconds, 3.0, IN_GEAR), (12.0, -0.5, None)]
}

fn only(trace: &Trace) -> Found {
    let mut found = find(trace);
    assert_eq!(found.len(), 1, "{found:?}");
    found.remove(0)
}

#[test]
fn the_rows_of_a_pull() {
    let t = drive(10.0, &pull(8.0));
    let f = only(&t);
    // the slope over ±0.25 s passes a quarter of its usual value 0.1 s before the throttle; 0.35 s are opening
    let (start, end) = (t.time[f.pull.start], t.time[f.pull.end - 1]);
    assert!((2.1..2.35).contains(&start), "{start}");
    // the top is at 10 s, 0.2 s are lifting off
    assert!((9.75..9.85).contains(&end), "{end}");
    let coast = f.coast.unwrap();
    let (start, end) = (t.time[coast.start], t.time[coast.end - 1]);
    // next to no change from row to row is still the top, for 1.5 s at most, then 0.4 s to settle; what follows the end
    // is not in the slope there
    assert!((11.65..11.8).contains(&start), "{start}");
    assert!((21.4..22.0).contains(&end), "{end}");
    // up to two seconds of steady driving before
    let (start, end) = (t.time[f.lead.start], t.time[f.lead.end]);
    assert!(start < 0.3 && (1.6..2.0).contains(&end), "{start} {end}");
}

#[test]
fn a_brake_asks_for_more_time_to_take_up() {
    let mut t = drive(10.0, &pull(8.0));
    let free = only(&t).pull.start;
    t.force = vec![1.0; t.time.len()];
    let braked = only(&t).pull.start;
    assert!((16..=19).contains(&(braked - free)), "{braked} {free}");
}

#[test]
fn a_throttle_says_where_full_load_is() {
    let mut t = drive(10.0, &pull(8.0));
    t.throttle = t.time.iter().map(|x| if (3.0..=8.5).contains(x) { 0.97 } else { 0.9 }).collect();
    let f = only(&t);
    let ends = (t.time[f.pull.start], t.time[f.pull.end - 1]);
    assert!((ends.0 - 3.0).abs() < 0.021 && (ends.1 - 8.5).abs() < 0.021, "{ends:?}");
    // 95 % of the widest is open, and an unread throttle is not closed
    let whole = {
        let mut t = drive(10.0, &pull(8.0));
        t.throttle = t.time.iter().map(|_| f64::NAN).collect();
        only(&t).pull
    };
    t.throttle = t.time.iter().map(|x| if (5.0..=5.5).contains(x) { 1.0 } else { 0.96 }).collect();
    assert_eq!(only(&t).pull, whole);
    t.throttle = t.time.iter().map(|x| if (5.0..=5.5).contains(x) { 1.0 } else { 0.94 }).collect();
    assert!(find(&t).is_empty());
}

#[test]
fn short_and_small_rises_are_none() {
    // a second of acceleration, or a rise by a tenth of the fastest
    assert!(find(&drive(10.0, &pull(0.8))).is_empty());
    assert_eq!(find(&drive(10.0, &pull(2.2))).len(), 1);
    let small = [
        (2.0, 0.0, IN_GEAR),
        (2.0, 1.0, IN_GEAR),
        (3.0, 0.0, IN_GEAR),
        (8.0, 3.0, IN_GEAR),
        (9.0, -0.5, None),
    ];
    let t = drive(10.0, &small);
    assert!(t.time[only(&t).pull.start] > 7.0);
    // by less than a quarter of its own speed
    let fast = [(2.0, 0.0, IN_GEAR), (2.6, 3.0, IN_GEAR), (9.0, -0.5, None)];
    assert!(find(&drive(34.0, &fast)).is_empty());
    assert_eq!(find(&drive(24.0, &fast)).len(), 1);
    // no rise at all, and next to none
    assert!(find(&drive(20.0, &[(9.0, 0.0, IN_GEAR)])).is_empty());
    assert!(find(&drive(5.0, &[(30.0, 0.14, IN_GEAR)])).is_empty());
    assert!(find(&drive(5.0, &[])).is_empty());
}

#[test]
fn a_gap_is_bridged_up_to_its_limit() {
    let broken = |hole: f64| {
        let t = drive(10.0, &pull(8.0));
        let mut all = t;
        let gone = |x: f64| x > 6.0 && x < 6.0 + hole;
        let keep: Vec<bool> = all.time.iter().map(|x| !gone(*x)).collect();
        all.keep(|k| keep[k]);
        find(&all).len()
    };
    assert_eq!((broken(0.5), broken(0.8)), (1, 1));
    assert_eq!(broken(1.6), 2);
    // a clock that starts again ends a pull
    let mut t = drive(10.0, &pull(8.0));
    t.breaks = vec![300];
    let found = find(&t);
    assert_eq!(found.len(), 2);
    assert!(found[0].pull.end <= 300 && found[1].pull.start >= 300);
}

#[test]
fn a_coast_down_that_cannot_be_used_says_why() {
    let note = |after: &[Piece]| {
        let mut pieces = vec![(2.0, 0.0, IN_GEAR), (8.0, 3.0, IN_GEAR)];
        pieces.extend_from_slice(after);
        let f = only(&drive(10.0, &pieces));
        (f.coast.is_some(), f.coast_note)
    };
    assert_eq!(note(&[]), (false, "the recording ends with the pull"));
    assert_eq!(note(&[(0.3, -0.5, None)]), (false, "the recording ends with the pull"));
    assert_eq!(note(&[(1.5, -0.5, None)]), (false, "the recording ends with the pull"));
    assert_eq!(note(&[(2.5, -0.5, None)]), (false, "it is shorter than a second"));
    assert_eq!(
        note(&[(9.0, -2.0, IN_GEAR)]),
        (false, "the clutch stays closed, so the engine's own drag would be in it")
    );
    // closed for two seconds of overrun, then open; for four it is too late
    assert!(note(&[(2.0, -2.0, IN_GEAR), (9.0, -0.5, None)]).0);
    assert!(!note(&[(4.0, -2.0, IN_GEAR), (9.0, -0.5, None)]).0);
    assert_eq!(note(&[(9.0, -0.5, None)]), (true, ""));
}

#[test]
fn brakes_and_a_driven_car_end_a_coast_down() {
    for (after, least, most) in [(-4.0, 3.0, 5.2), (0.0, 4.5, 6.1), (-0.7, 10.0, 13.0)] {
        let pieces = [(2.0, 0.0, IN_GEAR), (8.0, 3.0, IN_GEAR), (6.0, -0.5, None), (6.0, after, None)];
        let t = drive(10.0, &pieces);
        let coast = only(&t).coast.unwrap();
        let last = t.time[coast.end - 1] - 10.0;
        assert!((least..most).contains(&last), "{after}: {last}");
    }
    // the next pull ends it too
    let again = [pull(8.0), pull(8.0)].concat();
    let mut t = drive(10.0, &again);
    // the second begins where the first has rolled down to
    let found = find(&t);
    assert_eq!(found.len(), 2);
    assert!(found[0].coast.as_ref().unwrap().end <= found[1].pull.start);
    assert!(found[1].lead.start >= found[0].coast.as_ref().unwrap().end);
    t.breaks.clear();
    assert_eq!(find(&t), found);
}

/// Where the slope over ±0.25 s has gone the share `part` of its way from before a bend at `at` to after it: a least-squares
/// line over a bend has 3u² − 2u³ of the new slope when the share u of its window is behind the bend.
fn bend(at: f64, part: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..60 {
        let u: f64 = 0.5 * (low + high);
        if u * u * (3.0 - 2.0 * u) < part { low = u } else { high = u }
    }
    at - 0.25 + 0.5 * low
}

fn near(got: f64, expected: f64) {
    assert!((got - expected).abs() < 1.6e-3, "{got} {expected}");
}

/// A thousand rows a second: each time that is cut away or waited for, to a millisecond or two.
#[test]
fn times_of_a_pull_and_its_coast_down() {
    let pieces = [(5.0, 0.0, IN_GEAR), (8.0, 3.0, IN_GEAR), (9.0, -0.5, None)];
    let t = driven(1000.0, 10.0, &pieces);
    let f = only(&t);
    let time = |k: usize| t.time[k];
    // a quarter of the usual slope, then 0.35 s to open; 0.2 s before the last of that slope
    let begun = bend(5.0, 0.25);
    near(time(f.pull.start), begun + 0.35);
    let over = bend(13.0, (3.0 - 0.75) / 3.5);
    near(time(f.pull.end - 1), over - 0.2);
    // steady is below 0.1 m/s², two seconds at most
    let steady = bend(5.0, 0.1 / 3.0);
    near(time(f.lead.end), steady);
    near(time(f.lead.start), steady - 2.0);
    // no more than 1.5 s of next to no change, and 0.4 s to settle
    let coast = f.coast.unwrap();
    near(time(coast.start), over - 0.2 + 1.5 + 0.4);
    assert_eq!(coast.end, t.time.len());
    // with a brake 0.7 s to take up
    let mut braked = driven(1000.0, 10.0, &pieces);
    braked.force = vec![1.0; braked.time.len()];
    near(braked.time[only(&braked).pull.start], begun + 0.7);
    // a slow rise behind the pull is looked at for 0.6 s
    let slow = [(5.0, 0.0, IN_GEAR), (8.0, 3.0, IN_GEAR), (3.0, 0.5, IN_GEAR), (9.0, -0.5, None)];
    let t = driven(1000.0, 10.0, &slow);
    near(t.time[only(&t).pull.end - 1], bend(13.0, 0.9) + 0.6 - 0.2);
}

/// What ends a coast-down, to two rows: brakes and a drive from behind, seen in the slope; the clutch closed.
#[test]
fn times_that_end_a_coast_down() {
    let ended = |after: Piece| {
        let pieces = [(2.0, 0.0, IN_GEAR), (8.0, 3.0, IN_GEAR), (6.0, -0.5, None), after];
        let t = driven(400.0, 10.0, &pieces);
        t.time[only(&t).coast.unwrap().end - 1]
    };
    // braked is 1.7 times the usual slope and 0.15 m/s² more: back by 0.8 s, and out of the window of the slope
    let near = |got: f64, expected: f64| assert!((got - expected).abs() < 3.6e-3, "{got} {expected}");
    near(ended((6.0, -4.0, None)), bend(16.0, (1.7 * 0.5 + 0.15 - 0.5) / 3.5) - 0.8 - 0.25);
    near(ended((6.0, 0.0, None)), bend(16.0, (0.5 - 0.01) / 0.5) - 0.25);
    // the clutch opens when engine speed is 4 % from the ratio of the pull, within three seconds; 0.2 s to settle
    let opened = |ratio: f64, wait: f64| {
        let closed = (1.9 + wait, -0.5, IN_GEAR);
        let pieces = [(2.0, 0.0, IN_GEAR), (8.0, 3.0, IN_GEAR), closed, (9.0, -0.5, Some(ratio))];
        let t = driven(1000.0, 10.0, &pieces);
        only(&t).coast.map(|c| t.time[c.start])
    };
    near(opened(17.0 * 1.0405, 0.5).unwrap(), 10.0 + 1.9 + 0.5 + 0.2);
    near(opened(17.0 * 0.9595, 0.5).unwrap(), 10.0 + 1.9 + 0.5 + 0.2);
    assert!(opened(17.0 * 1.0395, 0.5).is_none() && opened(17.0 * 0.9605, 0.5).is_none());
    // it is waited for from where the car has settled on
    let until = bend(10.0, (3.0 - 0.75) / 3.5) - 0.2 + 1.5 + 0.4 + 3.0 - 11.9;
    assert!(opened(5.0, until - 0.004).is_some() && opened(5.0, until + 0.004).is_none());
}

/// Both sides of the shortest pull, the longest hole, the least rise and the least coast-down.
#[test]
fn least_and_most_of_a_pull() {
    let found = |seconds: f64| find(&driven(1000.0, 10.0, &pull(seconds))).len();
    // what is left after opening and lifting off is a second
    let short = 1.0 + 0.35 + 0.2 + bend(0.0, 0.25) - bend(0.0, (3.0 - 0.75) / 3.5);
    assert_eq!((found(short + 0.005), found(short - 0.005)), (1, 0));
    let hole = |long: f64| {
        let mut t = driven(1000.0, 10.0, &pull(8.0));
        let keep: Vec<bool> = t.time.iter().map(|x| !(*x > 6.0 && *x < 6.0 + long)).collect();
        t.keep(|k| keep[k]);
        find(&t).len()
    };
    assert_eq!((hole(0.897), hole(0.905)), (1, 2));
    // a fifth of the highest speed: the first pull gains 6 m/s and what the slope sees to both sides
    let first = |fastest: f64| {
        let rest = (fastest - 11.0) / 3.0;
        let small = [
            (2.0, 0.0, IN_GEAR),
            (4.0, 1.5, IN_GEAR),
            (2.5, -2.0, None),
            (3.0, 0.0, IN_GEAR),
            (rest, 3.0, IN_GEAR),
            (9.0, -0.5, None),
        ];
        find(&driven(1000.0, 10.0, &small)).len()
    };
    assert_eq!((first(28.0), first(32.0)), (2, 1));
    // a quarter more than the speed at its beginning
    let quarter = |from: f64| {
        let fast = [(2.0, 0.0, IN_GEAR), (2.6, 3.0, IN_GEAR), (9.0, -0.5, None)];
        find(&driven(1000.0, from, &fast)).len()
    };
    assert_eq!((quarter(30.8), quarter(31.5)), (1, 0));
}
