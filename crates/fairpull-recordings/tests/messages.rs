//! Every refusal, word for word: messages are part of the interface. All logs are invented.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests

use fairpull_recordings::{Column, Decimal, Encoding, Layout, PressureReference, Role, Separator, read};
use insta::assert_snapshot;

/// Time in s from `t`, and one more column.
fn with(column: Column) -> Layout {
    Layout::of(vec![Column::new(Role::Time, "t").unit("s"), column])
}

fn engine() -> Layout {
    with(Column::new(Role::EngineSpeed, "n").unit("rpm"))
}

fn refusal(log: &[u8], layout: &Layout) -> String {
    match read(log, "pull-3.csv", layout) {
        Ok(r) => panic!("was read: {r:?}"),
        Err(e) => e.to_string(),
    }
}

/// `t,n` and a hundred rows at 10 Hz.
fn rows(header: &str, cell: impl Fn(usize) -> String) -> Vec<u8> {
    let rows: String = (0..100).map(|i| format!("{},{}\n", f64::from(i) / 10.0, cell(i as usize))).collect();
    format!("{header}\n{rows}").into_bytes()
}

#[test]
fn empty_file() {
    assert_snapshot!(refusal(b"", &engine()), @"pull-3.csv: the file is empty; expected a header and rows of numbers. Export the log again");
    assert_snapshot!(refusal(b" \r\n\r\n", &engine()), @"pull-3.csv: the file is empty; expected a header and rows of numbers. Export the log again");
}

#[test]
fn binary_file() {
    assert_snapshot!(refusal(b"PK\x03\x04\x14\x00\x08", &engine()), @"pull-3.csv: byte 2 is 0x03, so this is not a text file; expected comma, semicolon, tab or bar separated text. Export the log as text (CSV)");
    assert_snapshot!(refusal(b"\x7fELF\x02\x01", &engine()), @"pull-3.csv: byte 4 is 0x02, so this is not a text file; expected comma, semicolon, tab or bar separated text. Export the log as text (CSV)");
}

#[test]
fn wrong_encoding_stated() {
    let layout = Layout { encoding: Some(Encoding::Utf8), ..engine() };
    assert_snapshot!(refusal(b"t,n\n1,\xB0\n", &layout), @"pull-3.csv:2: not utf-8 text; leave `encoding` out of the layout to have it detected, or state the right one (utf-8, latin-1, utf-16le, utf-16be)");
}

#[test]
fn no_rows_of_numbers() {
    assert_snapshot!(refusal(b"t,n\nfast,slow\n", &engine()), @"pull-3.csv: no row of numbers in the first 2 line(s); expected a header followed by at least two rows of numbers. Export the log as comma or semicolon separated text");
    assert_snapshot!(refusal(b"t,n\n", &engine()), @"pull-3.csv: no row of numbers in the first 1 line(s); expected a header followed by at least two rows of numbers. Export the log as comma or semicolon separated text");
    assert_snapshot!(refusal(b"a lone line of text", &engine()), @"pull-3.csv: no row of numbers in the first 1 line(s); expected a header followed by at least two rows of numbers. Export the log as comma or semicolon separated text");
}

/// The names behind it are lost in one cell: the quotation mark is what is wrong, not the name.
#[test]
fn a_quotation_mark_left_open_in_the_header() {
    let rows: String = (0..20).map(|i| format!("{i},2500,7,8\n")).collect();
    for header in ["t,\"a,n,b", "\"t,a,n,b", "t,a,\"n,b", "# made by nobody\nt,\"a,n,b"] {
        let m = refusal(format!("{header}\n{rows}").as_bytes(), &engine());
        let line = header.lines().count();
        assert_eq!(
            m,
            format!(
                "pull-3.csv:{line}: a quotation mark is opened here and the cell runs over the end of the line; close it or remove it"
            )
        );
    }
    // closed ones, and one within a name, are none
    for header in ["t,\"a,n\",m,b", "t,\"a \"\"x\"\"\",m,b", "t,a 5\",m,b"] {
        let m = refusal(format!("{header}\n{rows}").as_bytes(), &engine());
        assert!(m.contains("no column \"n\" for"), "{m}");
    }
}

#[test]
fn wrong_separator_stated() {
    let layout = Layout { separator: Some(Separator::Bar), ..engine() };
    assert_snapshot!(refusal(b"t,n\n0,2500\n1,2600\n", &layout), @"pull-3.csv:2: 1 cell(s) in the row, separator bar; expected at least 2. State `separator` (comma, semicolon, tab, bar) in the layout, or export the log again");
}

#[test]
fn one_sample() {
    assert_snapshot!(refusal(b"t,n\n0,2500\n", &engine()), @"pull-3.csv:2: only 1 row of numbers with a time stamp; expected at least two. Export the whole log");
    assert_snapshot!(refusal(b"t,n\n0,2500\n0,2600\n", &engine()), @"pull-3.csv:2: only 1 row of numbers with a time stamp; expected at least two. Export the whole log");
}

#[test]
fn columns_run_out() {
    assert_snapshot!(refusal(b"t,x,n\n0,1,2500\n1,1,2500\n2,1\n3,1\n4,1,2500\n", &engine()), @"pull-3.csv:4: 2 cell(s) in the row, separator comma; expected at least 3. State `separator` (comma, semicolon, tab, bar) in the layout, or export the log again");
}

#[test]
fn commas_inside_and_between_numbers() {
    assert_snapshot!(refusal(b"t,n\n0,00,2500,5\n0,10,2600,5\n0,20,2700,5\n", &engine()), @"pull-3.csv:2: 4 cells in the row, but 2 columns in the header (so in 3 of 3 rows); cells may have moved. If the log mixes decimal commas with comma separators, export it with semicolons or decimal points");
}

#[test]
fn nothing_mapped() {
    assert_snapshot!(refusal(b"t,n\n0,2500\n1,2600\n", &Layout::default()), @r#"pull-3.csv: the layout maps no column; map at least time and one speed, e.g. { role = "time", name = "Time", unit = "s" }"#);
}

#[test]
fn no_time() {
    let layout = Layout::of(vec![Column::new(Role::EngineSpeed, "n").unit("rpm")]);
    assert_snapshot!(refusal(b"t,n\n0,2500\n1,2600\n", &layout), @r#"pull-3.csv: no column is mapped as time; map one with role = "time", or state `sample_rate_hz` if the log has none. Columns: "t", "n""#);
}

#[test]
fn sample_rate() {
    let layout = Layout {
        sample_rate_hz: Some(-5.0),
        ..Layout::of(vec![Column::new(Role::EngineSpeed, "n").unit("rpm")])
    };
    assert_snapshot!(refusal(b"t,n\n0,2500\n1,2600\n", &layout), @"pull-3.csv: sample_rate_hz is -5 Hz; expected a number above 0 and at most 1000000 Hz, and only where no column is mapped as time");
    let layout = Layout { sample_rate_hz: Some(5.0), ..engine() };
    assert_snapshot!(refusal(b"t,n\n0,2500\n1,2600\n", &layout), @"pull-3.csv: sample_rate_hz is 5 Hz; expected a number above 0 and at most 1000000 Hz, and only where no column is mapped as time");
}

#[test]
fn unknown_column() {
    let log = b"# invented\nt,Engine Speed [rpm],Boost [bar]\n0,2500,1\n1,2600,1\n";
    let layout = with(Column::new(Role::EngineSpeed, "Engin Sped"));
    assert_snapshot!(refusal(log, &layout), @r#"pull-3.csv:2: no column "Engin Sped" for engine speed (did you mean "Engine Speed [rpm]"?); columns: "t", "Engine Speed [rpm]", "Boost [bar]""#);
    let layout = with(Column::new(Role::Lambda, "wideband"));
    assert_snapshot!(refusal(log, &layout), @r#"pull-3.csv:2: no column "wideband" for lambda; columns: "t", "Engine Speed [rpm]", "Boost [bar]""#);
}

#[test]
fn duplicate_names() {
    let layout = with(Column::new(Role::EngineSpeed, "n").unit("rpm"));
    assert_snapshot!(refusal(b"t,n,n\n0,2500,1\n1,2600,1\n", &layout), @r#"pull-3.csv:1: "n" for engine speed fits columns 2 and 3 ("n", "n"); rename one of them in the log's header"#);
    let layout = with(Column::new(Role::RoadSpeed, "Speed"));
    assert_snapshot!(refusal(b"t,Speed [km/h],Speed [mph]\n0,10,6\n1,20,12\n", &layout), @r#"pull-3.csv:1: "Speed" for road speed fits columns 2 and 3 ("Speed [km/h]", "Speed [mph]"); write the whole name in the layout"#);
}

#[test]
fn mapped_twice() {
    let mut layout = engine();
    layout.columns.push(Column::new(Role::RollerRotation, "n").unit("rpm"));
    assert_snapshot!(refusal(b"t,n\n0,2500\n1,2600\n", &layout), @r#"pull-3.csv:1:3: column 2 "n": mapped both as engine speed and as roller rotation; a column holds one thing. Remove one of the two from the layout"#);
    let mut layout = engine();
    layout.columns.push(Column::new(Role::EngineSpeed, "m").unit("rpm"));
    assert_snapshot!(refusal(b"t,n,m\n0,2500,1\n1,2600,2\n", &layout), @r#"pull-3.csv: engine speed is mapped to "n" and to "m"; keep the better of the two in the layout"#);
}

#[test]
fn unit_missing() {
    let layout = with(Column::new(Role::RollerSpeed, "roller"));
    assert_snapshot!(refusal(b"t,roller\n0,20\n1,30\n", &layout), @r#"pull-3.csv:1:3: column 2 "roller": no unit for roller surface speed, neither in the log nor in the layout; expected a unit of speed, e.g. km/h, m/s, mph, kn. Add unit = "…" to the column in the layout"#);
}

#[test]
fn unit_unknown() {
    let layout = with(Column::new(Role::RollerSpeed, "roller"));
    assert_snapshot!(refusal(b"t,roller [furlong/d]\n0,20\n1,30\n", &layout), @r#"pull-3.csv:1:3: column 2 "roller [furlong/d]": "furlong/d" is no unit known here for roller surface speed; expected a unit of speed, e.g. km/h, m/s, mph, kn. Add unit = "…" to the column in the layout"#);
    let layout = with(Column::new(Role::RollerSpeed, "roller").unit("kmph/h"));
    assert_snapshot!(refusal(b"t,roller [km/h]\n0,20\n1,30\n", &layout), @r#"pull-3.csv:1:3: column 2 "roller [km/h]": "kmph/h" is no unit known here for roller surface speed; expected a unit of speed, e.g. km/h, m/s, mph, kn. Add unit = "…" to the column in the layout"#);
}

#[test]
fn unit_of_the_wrong_dimension() {
    let layout = with(Column::new(Role::ManifoldPressure, "Boost").unit("C"));
    assert_snapshot!(refusal("t;Boost\n0;34\n1;35\n".as_bytes(), &layout), @r#"pull-3.csv:1:3: column 2 "Boost": "C" is a unit of temperature, but manifold pressure is a pressure; expected e.g. kPa, Pa, hPa, MPa. Correct the unit or the role in the layout"#);
    let layout = with(Column::new(Role::FuelFlow, "Fuel"));
    assert_snapshot!(refusal("t;Fuel\ns;L/h\n0;34\n1;35\n".as_bytes(), &layout), @r#"pull-3.csv:1:3: column 2 "Fuel": "L/h" is a unit of volume flow, but fuel mass flow is a mass flow; expected e.g. kg/s, kg/h, kg/min, g/s. Correct the unit or the role in the layout"#);
}

#[test]
fn gauge_or_absolute() {
    let layout = with(Column::new(Role::ManifoldPressure, "Ladedruck"));
    assert_snapshot!(refusal("Öl;t;Ladedruck [bar]\n1;0;1,1\n1;1;1,2\n".as_bytes(), &layout), @r#"pull-3.csv:1:6: column 3 "Ladedruck [bar]": manifold pressure in bar: gauge or absolute? Neither the unit nor the layout says; add reference = "gauge" or reference = "absolute" to the column"#);
    let layout = with(Column::new(Role::ManifoldPressure, "p").reference(PressureReference::Absolute));
    assert_snapshot!(refusal(b"t,p [psig]\n0,5\n1,6\n", &layout), @r#"pull-3.csv:1:3: column 2 "p [psig]": the layout says absolute, but the unit psi(g) says gauge; correct `reference` or `unit` in the layout"#);
    let layout = with(Column::new(Role::AmbientPressure, "p").reference(PressureReference::Gauge));
    assert_snapshot!(refusal(b"t,p [hPa]\n0,985\n1,985\n", &layout), @r#"pull-3.csv:1:3: column 2 "p [hPa]": the layout says gauge, but the ambient pressure is what gauge pressures are counted from; correct `reference` or `unit` in the layout"#);
    let layout = with(Column::new(Role::EngineSpeed, "n").unit("rpm").reference(PressureReference::Gauge));
    assert_snapshot!(refusal(b"t,n\n0,2500\n1,2600\n", &layout), @r#"pull-3.csv:1:3: column 2 "n": the layout says gauge, but engine speed is no pressure; correct `reference` or `unit` in the layout"#);
}

#[test]
fn comma_that_can_mean_two_things() {
    assert_snapshot!(refusal(b"t;n\n0;2,500\n1;2,600\n", &engine()), @r#"pull-3.csv:2:3: column 2 "n": "2,500" can mean 2.500 or 2500, and no other number in the log settles it; state decimal = "comma" or decimal = "point" in the layout"#);
    let layout = Layout { decimal: Some(Decimal::Comma), ..with(Column::new(Role::Lambda, "n")) };
    assert!(read(b"t;n\n0;1,500\n1;1,600\n", "a.csv", &layout).is_ok());
}

#[test]
fn not_numbers() {
    let log = rows("t,n", |i| if i % 10 == 7 { "ERR 12".into() } else { format!("{}", 2000 + i) });
    assert_snapshot!(refusal(&log, &engine()), @r#"pull-3.csv:9:5: column 2 "n": "ERR 12" is not a number (10 of 100 cells are not); expected a number in rpm. Correct the column or the decimal sign (`decimal`) in the layout, or the cells in the log"#);
    let layout = Layout { decimal: Some(Decimal::Point), ..engine() };
    assert_snapshot!(refusal(b"t;n\n0,0;2500,5\n0,1;2600,5\n0,2;2700,5\n", &layout), @r#"pull-3.csv:2:1: column 1 "t": "0,0" is not a number (3 of 3 cells are not); expected a number in s. Correct the column or the decimal sign (`decimal`) in the layout, or the cells in the log"#);
}

#[test]
fn no_values() {
    assert_snapshot!(refusal(&rows("t,n", |_| String::new()), &engine()), @r#"pull-3.csv:2:3: column 2 "n": no number in 100 rows, although it is mapped as engine speed; map another column or remove it from the layout"#);
    assert_snapshot!(refusal(&rows("t,n", |_| "NaN".into()), &engine()), @r#"pull-3.csv:2:3: column 2 "n": no number in 100 rows, although it is mapped as engine speed; map another column or remove it from the layout"#);
}

#[test]
fn impossible_values_suggest_the_likely_unit() {
    let layout = with(Column::new(Role::EngineSpeed, "n").unit("rad/s"));
    assert_snapshot!(refusal(&rows("t,n", |i| format!("{}", 2500 + 50 * i)), &layout), @r#"pull-3.csv:5:5: column 2 "n": engine speed of 2650 rad/s is not possible (97 of 100 values are not); expected -10 to 2600 rad/s. Did you mean rpm? Correct the unit in the layout"#);
    let layout = with(Column::new(Role::EngineSpeed, "n").unit("rpm"));
    assert_snapshot!(refusal(&rows("t,n", |i| format!("{}", 2.5 + 0.05 * i as f64)), &layout), @r#"pull-3.csv:2:3: column 2 "n": engine speed stays at or below 7.4 rpm in 99 of 100 rows; expected a log to reach 190.986 rpm. Did you mean rev/s? Correct the unit in the layout"#);
    let layout = with(Column::new(Role::IntakeTemperature, "T").unit("C"));
    assert_snapshot!(refusal(&rows("t,T", |i| format!("{}", 300 + i / 50)), &layout), @r#"pull-3.csv:2:3: column 2 "T": intake air temperature of 300 °C is not possible (100 of 100 values are not); expected -60 to 150 °C. Did you mean K or °F? Correct the unit in the layout"#);
    let layout =
        with(Column::new(Role::ManifoldPressure, "p").unit("kPa").reference(PressureReference::Absolute));
    assert_snapshot!(refusal(&rows("t,p", |i| format!("{}", i as f64 - 40.0)), &layout), @r#"pull-3.csv:2:3: column 2 "p": manifold pressure of -40 kPa is not possible (41 of 100 values are not); expected 1 to 800 kPa. Did you mean kPa gauge? Correct the unit in the layout"#);
    let layout =
        with(Column::new(Role::ManifoldPressure, "p").unit("kPa").reference(PressureReference::Absolute));
    assert_snapshot!(refusal(&rows("t,p", |i| format!("{}", 1.0 + i as f64 / 100.0)), &layout), @r#"pull-3.csv:2:3: column 2 "p": manifold pressure stays at or below 1.98 kPa in 99 of 100 rows; expected a log to reach 30 kPa. Did you mean bar, atm or kgf/cm²? Correct the unit in the layout"#);
    let layout = with(Column::new(Role::Throttle, "T").unit("1"));
    assert_snapshot!(refusal(&rows("t,T", |_| "100".into()), &layout), @r#"pull-3.csv:2:3: column 2 "T": throttle opening of 100 is not possible (100 of 100 values are not); expected -0.1 to 1.3. Did you mean %? Correct the unit in the layout"#);
    let layout = with(Column::new(Role::RelativeHumidity, "rh").unit("%"));
    assert_snapshot!(refusal(&rows("t,rh", |_| "0.55".into()), &layout), @r#"pull-3.csv:2:3: column 2 "rh": relative humidity stays at or below 0.55 % in 99 of 100 rows; expected a log to reach 1.1 %. Did you mean 1? Correct the unit in the layout"#);
    let layout = with(Column::new(Role::Lambda, "AFR"));
    assert_snapshot!(refusal(&rows("t,AFR", |_| "12.5".into()), &layout), @r#"pull-3.csv:2:3: column 2 "AFR": lambda of 12.5 is not possible (100 of 100 values are not); expected 0.3 to 8. If the column is an air-fuel ratio, map the λ column of the log instead"#);
}

#[test]
fn clock_coarser_than_the_rows() {
    let log: String = (0..40).map(|i| format!("12:00:{:02},{}\n", i / 10, 2500 + i)).collect();
    assert_snapshot!(refusal(format!("t,n\n{log}").as_bytes(), &engine()), @r#"pull-3.csv:3:1: column 1 "t": the clock is coarser than the rows: 36 of 40 rows repeat a time stamp (first "12:00:00"). Export a finer clock, or leave time out and state `sample_rate_hz`"#);
}

#[test]
fn quotation_mark_left_open() {
    assert_snapshot!(refusal(b"t,n,note\n0,2500,a\n1,2600,\"b\n2,2700,c\n3,2800,d\n", &engine()), @"pull-3.csv:3: a quotation mark is opened here and the cell runs over the end of the line; close it or remove it");
}
