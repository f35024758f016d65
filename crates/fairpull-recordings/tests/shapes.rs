//! One test for each shape in which loggers write their files. All logs are invented.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests

use fairpull_recordings::{
    Column, Decimal, Encoding, Layout, PressureReference, Recording, RepairKind, Role, Separator, read,
};

fn layout() -> Layout {
    Layout::of(vec![
        Column::new(Role::Time, "Time").unit("s"),
        Column::new(Role::EngineSpeed, "Engine").unit("rpm"),
    ])
}

fn ok(log: &str) -> Recording {
    match read(log.as_bytes(), "log.csv", &layout()) {
        Ok(r) => r,
        Err(e) => panic!("{e}"),
    }
}

fn rpm(r: &Recording) -> Vec<i64> {
    let c = r.channel(Role::EngineSpeed).expect("mapped");
    c.values
        .iter()
        .map(|v| if v.is_nan() { -1 } else { (v * 30.0 / core::f64::consts::PI).round() as i64 })
        .collect()
}

const PLAIN: &str = "Time,Engine\n0.0,2500\n0.1,2600\n0.2,2700\n";

#[test]
fn every_separator() {
    for (byte, name) in
        [(",", Separator::Comma), (";", Separator::Semicolon), ("\t", Separator::Tab), ("|", Separator::Bar)]
    {
        let r = ok(&PLAIN.replace(',', byte));
        assert_eq!((r.format.separator, rpm(&r)), (name, vec![2500, 2600, 2700]));
        assert!(r.repairs.is_empty(), "{:?}", r.repairs);
    }
}

#[test]
fn separator_named_on_the_first_line() {
    let r = ok("sep=;\nTime;Engine\n0,0;2500\n0,1;2600\n");
    assert_eq!((r.format.separator, r.format.decimal), (Separator::Semicolon, Decimal::Comma));
    assert_eq!(r.time, [0.0, 0.1]);
}

#[test]
fn decimal_comma() {
    for sep in [";", "\t", "|"] {
        let r = ok(&format!("Time{sep}Engine\n0,00{sep}2500,5\n0,01{sep}2600,5\n"));
        assert_eq!((r.format.decimal, r.time), (Decimal::Comma, vec![0.0, 0.01]));
    }
}

#[test]
fn decimal_comma_in_quotes_between_commas() {
    let r = ok("\"Time\",\"Engine\"\n\"0,00\",\"2500,4\"\n\"0,01\",\"2600,4\"\n");
    assert_eq!((r.format.separator, r.format.decimal), (Separator::Comma, Decimal::Comma));
    assert_eq!(rpm(&r), [2500, 2600]);
}

#[test]
fn byte_order_mark() {
    assert_eq!(rpm(&ok(&format!("\u{feff}{PLAIN}"))), [2500, 2600, 2700]);
}

#[test]
fn latin_1() {
    let log = b"Zeit;\xD6ltemperatur [\xB0C]\n0,0;80,5\n0,1;81,5\n";
    let layout = Layout::of(vec![
        Column::new(Role::Time, "Zeit").unit("s"),
        Column::new(Role::OilTemperature, "Öltemperatur"),
    ]);
    let r = read(log, "log.csv", &layout).expect("reads");
    assert_eq!(r.format.encoding, Encoding::Latin1);
    assert_eq!(r.channels[0].column, "Öltemperatur [°C]");
    assert_eq!(r.channels[0].values, [80.5 + 273.15, 81.5 + 273.15]);
}

#[test]
fn utf_8_names() {
    let layout = Layout::of(vec![
        Column::new(Role::Time, "Zeit").unit("s"),
        Column::new(Role::OilTemperature, "Öltemperatur"),
    ]);
    let r = read("Zeit;Öltemperatur [°C]\n0;80\n1;81\n".as_bytes(), "log.csv", &layout).expect("reads");
    assert_eq!((r.format.encoding, r.rows), (Encoding::Utf8, 2));
}

#[test]
fn utf_16_with_and_without_mark() {
    for (big, mark) in [(false, true), (true, true), (false, false), (true, false)] {
        let text = if mark { format!("\u{feff}{PLAIN}") } else { PLAIN.to_owned() };
        let bytes: Vec<u8> =
            text.encode_utf16().flat_map(|u| if big { u.to_be_bytes() } else { u.to_le_bytes() }).collect();
        let r = read(&bytes, "log.csv", &layout()).expect("reads");
        assert_eq!(r.format.encoding, if big { Encoding::Utf16Be } else { Encoding::Utf16Le });
        assert_eq!(rpm(&r), [2500, 2600, 2700]);
    }
}

#[test]
fn line_ends() {
    for end in ["\r\n", "\r"] {
        let r = ok(&(PLAIN.replace('\n', end) + &format!("0.3,oops{end}0.4,2800{end}")));
        assert_eq!(rpm(&r), [2500, 2600, 2700, -1, 2800]);
        let bad = r.repairs.iter().next().expect("one");
        assert_eq!((bad.kind, bad.first_line, bad.example.as_str()), (RepairKind::NotANumber, 5, "oops"));
    }
}

#[test]
fn blank_lines_do_not_shift_line_numbers() {
    let r = ok("\r\nTime,Engine\r\n\r\n0.0,2500\r\n\r\n\r\n0.1,oops\r\n0.2,2700\r\n");
    assert_eq!(r.repairs.iter().next().map(|x| x.first_line), Some(7));
}

#[test]
fn row_of_units() {
    let layout = Layout::of(vec![
        Column::new(Role::Time, "Time"),
        Column::new(Role::EngineSpeed, "Engine"),
        Column::new(Role::ManifoldPressure, "Boost"),
    ]);
    let r = read(b"Time,Engine,Boost\n[ms],[1/min],[bar(g)]\n0,2500,0.5\n100,2600,0.6\n", "a.csv", &layout)
        .expect("reads");
    assert_eq!((r.format.header_line, r.format.units_line, r.format.data_line), (Some(1), Some(2), 3));
    assert_eq!(r.time, [0.0, 0.1]);
    let boost = r.channel(Role::ManifoldPressure).expect("mapped");
    assert_eq!(boost.reference, Some(PressureReference::Gauge));
    assert_eq!(boost.values, [0.5e5, 0.6e5]);
}

#[test]
fn units_inside_the_header() {
    for header in
        ["Speed [km/h]", "Speed (km/h)", "Speed km/h", "Speed_kmh", "Speed {km/h}", "\"Speed, km/h\""]
    {
        let layout = Layout::of(vec![Column::new(Role::Time, "t"), Column::new(Role::RollerSpeed, "speed")]);
        let log = format!("t [s],{header}\n0,36\n1,72\n");
        let r = read(log.as_bytes(), "a.csv", &layout).unwrap_or_else(|e| panic!("{header}: {e}"));
        assert_eq!(r.channels[0].values, [10.0, 20.0], "{header}");
    }
}

#[test]
fn the_whole_header_is_the_unit() {
    let layout = Layout::of(vec![Column::new(Role::Time, "ms"), Column::new(Role::EngineSpeed, "RPM")]);
    assert_eq!(rpm(&read(b"ms,RPM\n0,2500\n10,2600\n", "a.csv", &layout).expect("reads")), [2500, 2600]);
}

#[test]
fn pressure_units_that_say_what_they_count_from() {
    for (unit, reference) in [
        ("psig", PressureReference::Gauge),
        ("bar abs", PressureReference::Absolute),
        ("kPa(a)", PressureReference::Absolute),
        ("bar(g)", PressureReference::Gauge),
    ] {
        for header in [format!("Boost [{unit}]"), format!("Boost {unit}")] {
            let layout = Layout::of(vec![
                Column::new(Role::Time, "t").unit("s"),
                Column::new(Role::ManifoldPressure, &header),
            ]);
            let value = if unit == "psig" {
                "12"
            } else if unit == "kPa(a)" {
                "180"
            } else {
                "1.8"
            };
            let log = format!("t,{header}\n0,{value}\n1,{value}\n");
            match read(log.as_bytes(), "a.csv", &layout) {
                Ok(r) => assert_eq!(r.channels[0].reference, Some(reference), "{header}"),
                // A unit of two words needs its brackets, and says so rather than guessing.
                Err(e) => assert!(header == "Boost bar abs", "{header}: {e}"),
            }
        }
    }
}

#[test]
fn comment_lines_before_and_between() {
    let r = ok(
        "# made by a logger\n// second\n; third\nTime,Engine\n0.0,2500\n# pull 2 starts\n0.1,2600\n// end\n",
    );
    assert_eq!(rpm(&r), [2500, 2600]);
    assert_eq!(r.format.preamble.len(), 3);
    assert_eq!(r.repairs.count(RepairKind::CommentLine), 2);
    assert_eq!(
        r.repairs.iter().next().map(|x| (x.first_line, x.example.as_str())),
        Some((6, "# pull 2 starts"))
    );
}

#[test]
fn header_inside_a_comment() {
    assert_eq!(rpm(&ok("# an invented log\n# Time;Engine\n0,0;2500\n0,1;2600\n")), [2500, 2600]);
}

#[test]
fn text_before_the_header() {
    let log = "Workshop log\nVehicle;Invented 2.0\nWeight;1540\nDate;03.05.2026\n\nTime;Engine;Note\n0,0;2500;a\n0,1;2600;b\n";
    let r = ok(log);
    assert_eq!((r.format.header_line, rpm(&r)), (Some(6), vec![2500, 2600]));
    assert_eq!(r.format.preamble, ["Workshop log", "Vehicle;Invented 2.0", "Weight;1540", "Date;03.05.2026"]);
}

#[test]
fn quoted_cells_with_separators_inside() {
    let r = ok("Time,\"Remark, free \"\"text\"\"\",Engine\n0.0,\"a, b\",2500\n0.1,\"c, \"\"d\"\"\",2600\n");
    assert_eq!(rpm(&r), [2500, 2600]);
}

#[test]
fn trailing_separators() {
    let r = ok("Time;Engine;\n0,0;2500;\n0,1;2600;\n");
    assert_eq!((rpm(&r), r.repairs.is_empty()), (vec![2500, 2600], true));
    let r = ok("Time;Engine\n0,0;2500;;\n0,1;2600;;\n");
    assert_eq!((rpm(&r), r.repairs.is_empty()), (vec![2500, 2600], true));
}

#[test]
fn header_and_units_written_again() {
    let r = ok("Time,Engine\ns,rpm\n0.0,2500\nTime,Engine\ns,rpm\n0.1,2600\n");
    assert_eq!((rpm(&r), r.repairs.count(RepairKind::HeaderRepeated)), (vec![2500, 2600], 2));
}

#[test]
fn no_header() {
    let layout = Layout::of(vec![
        Column::new(Role::Time, "column 1").unit("s"),
        Column::new(Role::EngineSpeed, "column 2").unit("rpm"),
    ]);
    let r = read(b"0.0,2500\n0.1,2600\n", "a.csv", &layout).expect("reads");
    assert_eq!((rpm(&r), r.format.header_line), (vec![2500, 2600], None));
    assert_eq!(r.repairs.count(RepairKind::NoHeader), 1);
}

#[test]
fn time_in_milliseconds_and_as_a_clock() {
    let times = |log: &str| {
        let layout = Layout::of(vec![Column::new(Role::Time, "Time")]);
        read(log.as_bytes(), "a.csv", &layout).unwrap_or_else(|e| panic!("{e}")).time
    };
    assert_eq!(times("Time [ms],x\n0,1\n500,1\n"), [0.0, 0.5]);
    assert_eq!(times("Time,x\n00:00:01.250,1\n00:01:01.500,1\n"), [1.25, 61.5]);
    assert_eq!(times("Time;x\n01:00:00,5;1\n01:00:01,0;1\n"), [3600.5, 3601.0]);
    assert_eq!(times("Time,x\n12:00:01:250,1\n12:00:01:500,1\n"), [43201.25, 43201.5]);
    assert_eq!(times("Time,x\n2026-05-03T14:00:00.5Z,1\n2026-05-03T14:00:01.0Z,1\n"), [50400.5, 50401.0]);
    assert_eq!(times("Time,x\n03.05.2026 12:00:00 AM,1\n03.05.2026 01:00:00 PM,1\n"), [0.0, 46800.0]);
    assert_eq!(times("Time,x\n01:02.5,1\n01:03.0,1\n"), [62.5, 63.0]);
    assert_eq!(times("Time,x\nhh:mm:ss.fff,-\n00:00:01.250,1\n00:01:01.500,1\n"), [1.25, 61.5]);
}

#[test]
fn midnight() {
    let r = ok(
        "Time,Engine\n23:59:59.8,2500\n23:59:59.9,2600\n00:00:00.0,2700\n00:00:00.1,2800\n00:00:00.2,2900\n",
    );
    assert_eq!(r.repairs.count(RepairKind::MidnightPassed), 1);
    assert!((r.time[2] - 86400.0).abs() < 1e-9 && (r.time[4] - 86400.2).abs() < 1e-9);
}

#[test]
fn no_time_column_but_a_stated_rate() {
    let layout = Layout {
        sample_rate_hz: Some(50.0),
        ..Layout::of(vec![Column::new(Role::EngineSpeed, "Engine").unit("rpm")])
    };
    let r = read(b"n,Engine\n1,2500\n2,2600\n3\n4,2700\n", "a.csv", &layout).expect("reads");
    // The short row keeps its place in time.
    assert_eq!(r.time, [0.0, 0.02, 0.06]);
}

/// Rows at 10 Hz with the stamps given by `stamp`.
fn stamped(stamps: &[f64]) -> String {
    let rows: String = stamps.iter().enumerate().map(|(i, t)| format!("{t},{}\n", 2000 + i)).collect();
    format!("Time,Engine\n{rows}")
}

#[test]
fn repeated_stamps_keep_the_first_row() {
    let r = ok("Time,Engine\n0.0,2500\n0.1,2600\n0.1,2650\n0.2,2700\n");
    assert_eq!((rpm(&r), r.repairs.count(RepairKind::RepeatedStamp)), (vec![2500, 2600, 2700], 1));
    assert_eq!(r.repairs.iter().next().map(|x| x.first_line), Some(4));
}

#[test]
fn short_step_back_drops_the_rows_out_of_order() {
    let r = ok(&stamped(&[0.0, 0.1, 0.2, 0.15, 0.3, 0.4]));
    assert_eq!((r.time, r.repairs.count(RepairKind::BackwardStamp)), (vec![0.0, 0.1, 0.2, 0.3, 0.4], 1));
}

#[test]
fn one_bad_stamp_is_dropped_whichever_way_it_points() {
    let r = ok(&stamped(&[50.0, 50.1, 0.0, 50.2, 50.3, 9999.0, 50.4, 50.5]));
    assert_eq!(r.time, [50.0, 50.1, 50.2, 50.3, 50.4, 50.5]);
    assert_eq!(r.repairs.count(RepairKind::BackwardStamp), 1);
    assert_eq!(r.repairs.count(RepairKind::LeapingStamp), 1);
    assert_eq!(r.segments, [0]);
}

#[test]
fn clock_that_starts_again_begins_a_segment() {
    let once: Vec<f64> = (0..50).map(|i| f64::from(i) / 10.0).collect();
    let r = ok(&stamped(&[once.clone(), once.clone(), once].concat()));
    assert_eq!((r.rows, r.segments.as_slice()), (150, [0, 50, 100].as_slice()));
    assert_eq!(r.repairs.count(RepairKind::ClockRestarted), 2);
    assert!(r.time.windows(2).all(|w| w[1] > w[0]));
    assert!((r.time[50] - r.time[49] - 60.0).abs() < 1e-9);
    assert!((r.time[51] - r.time[50] - 0.1).abs() < 1e-9);
    assert_eq!(r.repairs.count(RepairKind::Gap), 0);
}

#[test]
fn newest_row_first() {
    let r = ok(&stamped(&[0.5, 0.4, 0.3, 0.2, 0.1]));
    assert_eq!((r.time, r.repairs.count(RepairKind::NewestFirst)), (vec![0.1, 0.2, 0.3, 0.4, 0.5], 5));
}

#[test]
fn gaps_and_uneven_rate_are_noted_and_nothing_is_filled_in() {
    let mut stamps: Vec<f64> =
        (0..40).map(|i| f64::from(i) / 10.0 + if i % 2 == 0 { 0.04 } else { 0.0 }).collect();
    stamps.extend((0..10).map(|i| 8.0 + f64::from(i) / 10.0));
    let r = ok(&stamped(&stamps));
    assert_eq!(r.rows, 50);
    assert_eq!(r.repairs.count(RepairKind::Gap), 1);
    assert!(r.repairs.count(RepairKind::UnevenRate) > 20);
}

#[test]
fn rows_without_a_stamp() {
    let r = ok("Time,Engine\n0.0,2500\n,2600\n0.2,2700\n");
    assert_eq!((rpm(&r), r.repairs.count(RepairKind::NoTimeStamp)), (vec![2500, 2700], 1));
}

#[test]
fn cells_without_a_value() {
    for (cell, kind) in [
        ("", RepairKind::EmptyCell),
        ("  ", RepairKind::EmptyCell),
        ("NaN", RepairKind::NoValue),
        ("inf", RepairKind::NoValue),
        ("-Infinity", RepairKind::NoValue),
        ("1e999", RepairKind::NoValue),
        ("n/a", RepairKind::NoValue),
        ("#N/A", RepairKind::NoValue),
        ("---", RepairKind::NoValue),
        ("abc", RepairKind::NotANumber),
    ] {
        let r = ok(&format!("Time,Engine\n0.0,2500\n0.1,{cell}\n0.2,2700\n"));
        assert_eq!((rpm(&r), r.repairs.count(kind)), (vec![2500, -1, 2700], 1), "{cell:?}");
    }
}

#[test]
fn thousands_in_groups() {
    let r = ok("Time;Engine\n0,0;2.500,0\n0,1;2.600,0\n");
    assert_eq!((rpm(&r), r.format.decimal), (vec![2500, 2600], Decimal::Comma));
    assert_eq!(rpm(&ok("Time,Engine\n0.0,\"2,500.0\"\n0.1,\"2,600.0\"\n")), [2500, 2600]);
    assert_eq!(rpm(&ok("Time;Engine\n0,0;2 500,0\n0,1;2\u{a0}600,0\n")), [2500, 2600]);
    assert_eq!(rpm(&ok("Time;Engine\n0.0;2'500.0\n0.1;2'600.0\n")), [2500, 2600]);
}

#[test]
fn numbers_with_their_unit_behind() {
    let r = ok("Time,Engine\n0.0 s,2500 rpm\n0.1 s,2600rpm\n0.2 s,2700 1/min\n");
    assert_eq!(rpm(&r), [2500, 2600, 2700]);
    let r = ok("Time,Engine\n0.0,2500\n0.1,260 rad/s\n0.2,2700\n");
    assert_eq!((rpm(&r), r.repairs.count(RepairKind::NotANumber)), (vec![2500, -1, 2700], 1));
}

#[test]
fn truncated_last_line() {
    let r = ok("Time,Engine,Note\n0.0,2500,a\n0.1,2600,b\n0.2,27");
    assert_eq!((rpm(&r), r.repairs.count(RepairKind::TruncatedLastRow)), (vec![2500, 2600], 1));
    let r = ok("Time,Engine\n0.0,2500\n0.1,2600\n0.2");
    assert_eq!((rpm(&r), r.repairs.count(RepairKind::TruncatedLastRow)), (vec![2500, 2600], 1));
    // No line end alone is no fault.
    let r = ok("Time,Engine\n0.0,2500\n0.1,2600");
    assert_eq!((rpm(&r), r.repairs.is_empty()), (vec![2500, 2600], true));
}

#[test]
fn rows_too_short_or_too_long() {
    let mut log = String::from("Time,Engine\n");
    for i in 0..100 {
        log += &format!("{},{}\n", f64::from(i) / 10.0, 2000 + i);
    }
    log += "10.0\n10.1,2300,7,8\nlap 2 begins\n10.2,2400\n";
    let r = ok(&log);
    assert_eq!(r.rows, 101);
    for (kind, line) in [(RepairKind::ShortRow, 102), (RepairKind::LongRow, 103), (RepairKind::TextRow, 104)]
    {
        let x = r.repairs.iter().find(|x| x.kind == kind).expect("noted");
        assert_eq!((x.count, x.first_line), (1, line), "{kind:?}");
    }
}

#[test]
fn names_without_regard_to_case_and_spacing() {
    let layout =
        Layout::of(vec![Column::new(Role::Time, "time"), Column::new(Role::EngineSpeed, "engine  SPEED")]);
    let r = read(b"Time (s),Engine Speed [rpm]\n0,2500\n1,2600\n", "a.csv", &layout).expect("reads");
    assert_eq!(rpm(&r), [2500, 2600]);
}

#[test]
fn unit_of_the_layout_goes_before_the_unit_of_the_log() {
    let layout = Layout::of(vec![
        Column::new(Role::Time, "t").unit("s"),
        Column::new(Role::RollerSpeed, "v").unit("mph"),
    ]);
    let r = read(b"t,v [km/h]\n0,50\n1,60\n", "a.csv", &layout).expect("reads");
    assert_eq!(r.channels[0].unit.symbol(), "mph");
    let note = r.repairs.iter().next().expect("noted");
    assert_eq!(note.kind, RepairKind::UnitOverridden);
    assert_eq!(note.example, "the log says km/h, the layout mph");
}

#[test]
fn unmapped_columns_are_left_alone() {
    let r = ok("Time,junk,Engine,junk\n0.0,\"x\",2500,?\n0.1,,2600,!\n");
    assert_eq!((rpm(&r), r.channels.len(), r.repairs.is_empty()), (vec![2500, 2600], 1, true));
}

#[test]
fn a_layout_is_read_from_toml() {
    let text = "separator = \"semicolon\"\ndecimal = \"comma\"\nencoding = \"latin-1\"\n\
        columns = [\n  { role = \"time\", name = \"t\", unit = \"s\" },\n\
        { role = \"manifold_pressure\", name = \"Boost\", unit = \"bar\", reference = \"gauge\" },\n]\n";
    let layout: Layout = toml::from_str(text).expect("parses");
    assert_eq!((layout.separator, layout.encoding), (Some(Separator::Semicolon), Some(Encoding::Latin1)));
    assert_eq!(layout.columns[1].role, Role::ManifoldPressure);
    assert_eq!(layout.columns[1].reference, Some(PressureReference::Gauge));
    assert!(toml::from_str::<Layout>("colums = []").is_err());
}

#[test]
fn roles_are_written_by_their_ids() {
    for role in Role::ALL {
        let written = toml::Value::try_from(role).expect("serialises");
        assert_eq!(written.as_str(), Some(role.id()));
        assert_eq!(Role::from_id(role.id()), Some(*role));
        let (low, high) = role.range(None);
        assert!(low < high && !role.words().is_empty());
    }
}

#[test]
fn letter_case_counts_where_it_tells_columns_apart() {
    let layout = Layout::of(vec![Column::new(Role::Time, "t").unit("s"), Column::new(Role::BrakeForce, "F")]);
    let r = read(b"f,t,F [N],T\n9,0,1500,1\n9,1,1600,2\n", "a.csv", &layout).expect("reads");
    assert_eq!((r.time, r.channels[0].values.clone()), (vec![0.0, 1.0], vec![1500.0, 1600.0]));
}
