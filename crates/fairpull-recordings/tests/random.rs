//! Whatever the bytes, reading and guessing answer and never panic; what is read keeps its promises.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests

use fairpull_recordings::{Column, Layout, PressureReference, Role, guess, read};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

fn layout(names: [&str; 3]) -> Layout {
    Layout::of(vec![
        Column::new(Role::Time, names[0]).unit("s"),
        Column::new(Role::EngineSpeed, names[1]).unit("rpm"),
        Column::new(Role::ManifoldPressure, names[2]).unit("kPa").reference(PressureReference::Absolute),
    ])
}

/// Bytes that look like a log often enough to reach deep.
fn loglike() -> impl Strategy<Value = Vec<u8>> {
    let piece = prop_oneof![
        4 => Just(",".to_owned()),
        2 => Just(";".to_owned()),
        4 => Just("\n".to_owned()),
        1 => Just("\r\n".to_owned()),
        1 => Just("\"".to_owned()),
        1 => Just("t,n,p\n".to_owned()),
        1 => Just("[s],[rpm],[kPa]\n".to_owned()),
        1 => Just("#".to_owned()),
        1 => Just("12:00:0".to_owned()),
        6 => "[0-9]{1,5}([.,][0-9]{1,4})?",
        1 => "[a-zA-Zµ°é ]{1,6}",
        2 => (0_u32..2000, 800_u32..9000, 0_u32..300).prop_map(|(t, n, p)| format!("\n{}.{:02},{n},{p}", t / 100, t % 100)),
        1 => "\\PC",
    ];
    prop::collection::vec(piece, 0..120).prop_map(|v| v.concat().into_bytes())
}

fn check(bytes: &[u8], layout: &Layout) {
    if let Ok(r) = read(bytes, "log", layout) {
        assert_eq!(r.time.len(), r.rows);
        assert!(r.channels.iter().all(|c| c.values.len() == r.rows));
        assert!(r.time.windows(2).all(|w| w[1] > w[0]));
        assert!(r.channels.iter().flat_map(|c| &c.values).all(|v| v.is_nan() || v.is_finite()));
        assert_eq!(r.segments.first(), Some(&0));
        assert!(r.segments.windows(2).all(|w| w[1] > w[0]) && r.segments.iter().all(|s| *s < r.rows));
        for repair in &r.repairs {
            assert!(repair.count > 0 && !repair.to_string().is_empty());
        }
    }
    if let Ok(g) = guess(bytes, "log") {
        let text = g.toml("layout");
        assert!(toml::from_str::<toml::Value>(&text).is_ok(), "{text}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, rng_seed: RngSeed::Fixed(20_260_503), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..600)) {
        check(&bytes, &layout(["t", "n", "p"]));
    }

    #[test]
    fn bytes_like_a_log(bytes in loglike()) {
        check(&bytes, &layout(["t", "n", "p"]));
        check(&bytes, &layout(["column 1", "column 2", "column 3"]));
    }

    #[test]
    fn a_log_with_rows_shuffled_and_cells_spoiled(
        stamps in prop::collection::vec(prop_oneof![0.0..50.0_f64, Just(1.0), -1e9..1e9_f64], 2..80),
        spoil in any::<u64>(),
    ) {
        let rows: String = stamps.iter().enumerate().map(|(i, t)| {
            if spoil >> (i % 64) & 7 == 0 { format!("{t},,x\n") } else { format!("{t},{},120\n", 2000 + i) }
        }).collect();
        check(format!("t,n,p\n{rows}").as_bytes(), &layout(["t", "n", "p"]));
    }

    /// A clean log comes back number by number.
    #[test]
    fn clean_logs_come_back(values in prop::collection::vec(1000..8000_u32, 2..60), comma in any::<bool>()) {
        let rows: String = values.iter().enumerate().map(|(i, n)| {
            let row = format!("{}.{};{n};101.3\n", i / 10, i % 10);
            if comma { row.replace('.', ",") } else { row }
        }).collect();
        let r = read(format!("t;n;p\n{rows}").as_bytes(), "log", &layout(["t", "n", "p"])).expect("reads");
        prop_assert_eq!(r.rows, values.len());
        let n = r.channel(Role::EngineSpeed).expect("mapped");
        for (back, n) in n.values.iter().zip(&values) {
            prop_assert!(back.is_nan() || (n_of(*back) - f64::from(*n)).abs() < 1e-9);
        }
    }
}

fn n_of(rad_per_s: f64) -> f64 {
    rad_per_s * 30.0 / core::f64::consts::PI
}
