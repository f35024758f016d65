//! One function for each kind of input. None may panic; each checks what must hold for whatever was accepted.

use fairpull::claims::{Claim, vet};
use fairpull::core::{
    AbsolutePressure, Air, Charging, CorrectionStandard, Engine, Ignition, Temperature, VapourPressure,
};
use fairpull::recordings::{Column, Layout, Role, guess, read};
use fairpull::reduction::{Job, reduce};
use fairpull::restate::{Figure, Knowledge, Target, restate};
use fairpull::road::{Measure, analyse};
use fairpull::units::{Dimension, Unit, parse, parse_as};
use fairpull::{builtin, present, report};

use super::parts::{self, finite, text};
use super::recipe;

/// Target of an input by the first word of its file name.
pub const ALL: [(&str, fn(&[u8])); 10] = [
    ("log", log),
    ("quantity", quantity),
    ("figure", figure),
    ("job", job),
    ("claim", claim),
    ("declared", declared),
    ("reduction", reduction),
    ("track", track),
    ("road", road),
    ("question", question),
];

/// A delimited log: guessed, then read with the guess and with a fixed layout.
pub fn log(data: &[u8]) {
    if let Ok(answer) = fairpull::columns(data, "log.csv") {
        assert!(toml::from_str::<toml::Table>(&answer.toml).is_ok(), "no TOML: {}", answer.toml);
    }
    let fixed = Layout::of(vec![
        Column::new(Role::Time, "Time").unit("s"),
        Column::new(Role::RollerSpeed, "Roller").unit("km/h"),
    ]);
    let guessed = guess(data, "log.csv").ok().map(|g| {
        let column = |c: fairpull::recordings::GuessedColumn| {
            Some(Column { role: c.role?, name: c.name, unit: c.unit, reference: c.reference })
        };
        Layout::of(g.columns.into_iter().filter_map(column).collect())
    });
    for layout in [Some(fixed), guessed].into_iter().flatten() {
        match read(data, "log.csv", &layout) {
            Err(e) => assert!(e.to_string().contains("log.csv"), "no file: {e}"),
            Ok(r) => {
                assert!(r.time.iter().all(|t| t.is_finite()), "a time that is no number");
                assert!(r.time.windows(2).all(|w| w[0] < w[1]), "time that does not rise");
                assert_eq!(r.rows, r.time.len());
                for c in &r.channels {
                    assert_eq!(c.values.len(), r.rows);
                    assert!(c.values.iter().all(|v| !v.is_infinite()), "an infinite value");
                }
            }
        }
    }
}

/// `<number><unit>` of any dimension; what is read can be printed and read again.
pub fn quantity(data: &[u8]) {
    let Some(t) = text(data) else { return };
    for d in [Dimension::Pressure, Dimension::Power, Dimension::Temperature, Dimension::Ratio] {
        match parse_as(t, d) {
            Ok(r) => assert!(r.si.is_finite() && r.unit.dimension() == d),
            Err(e) => assert!(!e.to_string().is_empty()),
        }
    }
    if let Ok(r) = parse(t) {
        assert!(r.value.is_finite() && r.si.is_finite());
        let printed = fairpull::units::show(r.si, r.unit, fairpull::units::Digits::Decimals(3));
        assert!(!printed.contains("NaN") && !printed.contains("inf"), "{t:?} prints {printed}");
        // a plain ratio is printed as a number alone, and reads as one
        if r.unit.symbol() == "1" {
            let back = fairpull::units::number(&printed, fairpull::units::Decimal::Point);
            assert!(back.is_ok(), "{t:?} prints {printed}, which is no number: {back:?}");
        } else {
            let back = parse_as(&printed, r.unit.dimension());
            assert!(back.is_ok(), "{t:?} prints {printed}, which does not read: {back:?}");
        }
    }
    let (number, unit) = t.split_once(' ').unwrap_or((t, "kW"));
    if let Ok(answer) = fairpull::convert(number, unit) {
        finite(&answer);
    }
    let _ = Unit::find(t);
    let _ = fairpull::fuels::parse_fuel(t);
}

/// The one-line notation: printed and read again it is the same figure; restated it stays finite.
pub fn figure(data: &[u8]) {
    let Some(t) = text(data) else { return };
    let Ok(f) = t.parse::<Figure>() else { return };
    for printed in [f.to_string(), format!("{f:#}")] {
        match printed.parse::<Figure>() {
            Ok(again) => assert_eq!(again.to_string(), f.to_string(), "{t:?} through {printed:?}"),
            Err(e) => panic!("{t:?} prints {printed:?}, which does not read: {e}"),
        }
    }
    let catalogue = builtin();
    let mut knowledge = Knowledge::new();
    knowledge.draws = 64;
    // restating with much unknown takes a hundred times as long as reading: one text in four, and one target
    let target = match t.len() % 8 {
        0 => Target::observed_at_crank(),
        1 => Target::standard("sae-j1349"),
        _ => return,
    };
    if let Ok(r) = restate(&f, &target, &catalogue, &knowledge) {
        assert!(r.value.is_finite(), "{t:?} gives {}", r.value);
    }
}

/// A job file: accepted, or refused with a place inside it.
pub fn job(data: &[u8]) {
    let Some(t) = text(data) else { return };
    if let Err(e) = Job::parse(t, "job.toml") {
        assert!(e.span.start <= t.len() + 1, "a place outside: {e:?}");
        assert!(e.to_string().contains("job.toml") && !e.problem.is_empty(), "{e:?}");
    }
}

/// A claim file, vetted.
pub fn claim(data: &[u8]) {
    let Some(t) = text(data) else { return };
    match Claim::parse(t, "claim.toml") {
        Err(e) => assert!(e.to_string().contains("claim.toml"), "{e}"),
        Ok(c) => {
            if let Ok(v) = vet(&c, &builtin()) {
                finite(&v);
            }
        }
    }
}

/// A declared standard in TOML and JSON, asked for factors.
pub fn declared(data: &[u8]) {
    let Some(t) = text(data) else { return };
    let both = [fairpull::declared::parse_toml(t, "own.toml"), fairpull::declared::parse_json(t, "own.json")];
    for standard in both.into_iter().flatten() {
        for (kpa, c, vapour) in [(100.0, 25.0, 1.0), (40.0, -60.0, 0.0), (120.0, 80.0, 47.0)] {
            let air = Air::new(
                AbsolutePressure::from_kilopascals(kpa),
                Temperature::from_celsius(c),
                VapourPressure::from_kilopascals(vapour),
            );
            for ignition in [Ignition::Spark, Ignition::Compression] {
                let Ok(air) = &air else { continue };
                if let Ok(f) = standard.factor(air, &Engine::new(ignition, Charging::None)) {
                    assert!(f.value().is_finite() && f.value() > 0.0, "factor {}", f.value());
                }
            }
        }
    }
}

/// A whole job: job text and logs between lines of `%%`, the logs standing in turn for every name that is asked for;
/// or, behind the mark of a [`recipe`], choices from which job and logs are made.
pub fn reduction(data: &[u8]) {
    if let Some((&recipe::MARK, choices)) = data.split_first() {
        let (job, logs) = recipe::made(choices);
        let logs: Vec<&[u8]> = logs.iter().map(Vec::as_slice).collect();
        // the pages take as long as the rest: of one recipe in four
        let sum = choices.iter().fold(0u8, |sum, b| sum.wrapping_add(*b));
        let _ = if sum.is_multiple_of(4) { reduced(&job, &logs) } else { figures(&job, &logs).map(drop) };
        return;
    }
    let mut pieces = parts::split(data, b"\n%%\n");
    let Some(t) = pieces.next().and_then(text) else { return };
    let logs: Vec<&[u8]> = pieces.collect();
    let _ = reduced(t, &logs);
}

/// Reduces and presents in every form.
///
/// # Errors
/// Why there is no outcome.
pub fn reduced(job: &str, logs: &[&[u8]]) -> Result<(), String> {
    let model = figures(job, logs)?;
    let html = report::to_html(&model);
    assert!(!html.contains("NaN"), "the report prints NaN");
    let rows = report::curves_csv(&model);
    assert!(!rows.contains("NaN") && !rows.contains("inf"), "the table holds NaN or inf");
    let _ = (report::gains_csv(&model), report::summary_text(&model, 80, false));
    Ok(())
}

/// Reduces; every figure is a number.
fn figures(job: &str, logs: &[&[u8]]) -> Result<report::ResultModel, String> {
    let job = Job::parse(job, "job.toml").map_err(|e| e.to_string())?;
    let mut asked = 0;
    let mut give = |_: &str| {
        asked += 1;
        logs.get((asked - 1) % logs.len().max(1)).map(|l| l.to_vec()).ok_or_else(|| "no such file".to_owned())
    };
    let catalogue = builtin();
    match reduce(&job, &catalogue, &mut give, &mut |_, _| true) {
        Err(e) => {
            assert!(!e.to_string().is_empty());
            Err(e.to_string())
        }
        Ok(outcome) => {
            let model = present(&job, &outcome, &catalogue);
            // refuses every figure that is no number
            if let Err(e) = report::to_json(&model) {
                panic!("no JSON: {e}");
            }
            Ok(model)
        }
    }
}

/// A track of a satellite receiver, then what it says about power.
pub fn track(data: &[u8]) {
    if let Ok(track) = fairpull_tracks::read(data, "run.gpx") {
        let l = &track.log;
        assert!(l.time_s.windows(2).all(|w| w[0] < w[1]) && l.time_s.iter().all(|t| t.is_finite()));
        assert!(l.speed_kmh.iter().all(|v| v.is_finite()) && l.speed_kmh.len() == l.time_s.len());
        if let Ok(r) = analyse(l, &parts::setup(&[]), &[Measure::kmh(100.0, 200.0)]) {
            finite(&r);
        }
    }
}

/// A log of speed as numbers: 16 bytes of set-up, then steps of time, speed and height.
pub fn road(data: &[u8]) {
    let (head, body) = data.split_at(data.len().min(16));
    let log = parts::speed_log(body);
    let asked = [Measure::kmh(0.0, 100.0), Measure::kmh(100.0, 200.0), Measure::mph(60.0, 130.0, false)];
    for measures in [&asked[..], &[]] {
        if let Ok(r) = analyse(&log, &parts::setup(head), measures) {
            finite(&r);
        }
    }
}

/// A question in JSON or TOML behind the word that names it.
pub fn question(data: &[u8]) {
    let Some((word, body)) = text(data).and_then(|t| t.split_once('\n')) else { return };
    super::ask::ask(word, body);
}
