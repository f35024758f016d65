//! The same bits as the direct calls in Rust, over many rows, in columns and in constants.

use std::collections::HashMap;
use std::sync::Arc;

use arrow::array::{ArrayRef, AsArray, Float64Array, RecordBatch, StringArray};
use datafusion::prelude::SessionContext;
use fairpull::core::{KnockModel, KnockPoint, Span, Temperature};
use fairpull::fuels::{OctaneIndex, parse_fuel};
use fairpull::humid::{Method, Moisture};
use fairpull::restate::Restated;
use fairpull::units::{Unit, convert};
use fairpull::{AirQuestion, EngineQuestion, FactorsQuestion, RestateQuestion, builtin, factors};

use super::{Stream, doubles, field, query, session, table};

const ROWS: usize = 20_000;
const STANDARDS: [&str; 5] = ["iso-1585", "sae-j1349", "din-70020", "un-r85", "iso-15550"];

struct Archive {
    session: SessionContext,
    power: Vec<f64>,
    pressure: Vec<f64>,
    temperature: Vec<f64>,
    humidity: Vec<f64>,
    standard: Vec<&'static str>,
}

/// Invented rows in batches of odd sizes, in their order.
fn archive(rows: usize) -> Archive {
    let mut stream = Stream(7);
    let mut column = |low, high| (0..rows).map(|_| stream.between(low, high)).collect::<Vec<f64>>();
    let (power, pressure) = (column(20.0, 900.0), column(80.0, 108.0));
    let (temperature, humidity) = (column(-20.0, 50.0), column(0.0, 100.0));
    let standard: Vec<&str> = (0..rows).map(|i| STANDARDS[(i / 7) % STANDARDS.len()]).collect();
    let session = session(1, 1013);
    let doubles = |v: &Vec<f64>| Arc::new(Float64Array::from(v.clone())) as ArrayRef;
    let columns = vec![
        ("power", doubles(&power)),
        ("pressure", doubles(&pressure)),
        ("temperature", doubles(&temperature)),
        ("humidity", doubles(&humidity)),
        ("standard", Arc::new(StringArray::from(standard.clone())) as ArrayRef),
    ];
    table(&session, "archive", columns, 1, None);
    Archive { session, power, pressure, temperature, humidity, standard }
}

impl Archive {
    async fn ask(&self, call: &str) -> RecordBatch {
        let sql = format!("SELECT {call} FROM archive");
        query(&self.session, &sql).await.unwrap_or_else(|e| panic!("{sql}: {e}"))
    }

    fn air(&self, i: usize) -> AirQuestion {
        AirQuestion {
            pressure: Some(format!("{}kPa", self.pressure[i])),
            temperature: Some(format!("{}C", self.temperature[i])),
            humidity: Some(format!("{}%", self.humidity[i])),
            ..AirQuestion::default()
        }
    }
}

fn same(got: Option<f64>, wanted: f64, what: &str) {
    assert_eq!(got.map(f64::to_bits), Some(wanted.to_bits()), "{what}: {got:?} and {wanted}");
}

#[tokio::test]
async fn convert_column_and_constant() {
    let a = archive(ROWS);
    let rows = a.ask("convert(power, 'PS', 'kW'), convert(temperature, 'C', 'F')").await;
    let find = |u| Unit::find(u).unwrap();
    let (ps, c) = (doubles(&rows, 0), doubles(&rows, 1));
    for i in 0..ROWS {
        same(ps[i], convert(a.power[i], find("PS"), find("kW")).unwrap(), "power");
        same(c[i], convert(a.temperature[i], find("C"), find("F")).unwrap(), "temperature");
    }
    let constant = query(&a.session, "SELECT convert(530, 'PS', 'kW')").await.unwrap();
    same(doubles(&constant, 0)[0], fairpull::convert("530PS", "kW").unwrap().value, "constant");
}

#[tokio::test]
async fn vapour_pressure_column() {
    let a = archive(ROWS);
    let got = doubles(&a.ask("vapour_pressure(temperature, humidity)").await, 0);
    for i in 0..ROWS {
        let Moisture::RelativeHumidity(share) = Moisture::percent(a.humidity[i]) else { unreachable!() };
        let t = Temperature::from_celsius(a.temperature[i]);
        let saturation = Method::default().saturation(t).unwrap().pascals();
        let wanted = fairpull::core::VapourPressure::from_pascals(share * saturation).kilopascals();
        same(got[i], wanted, "vapour pressure");
    }
}

/// Against the question that the command line asks, in text, for two engines.
#[tokio::test]
async fn factors_as_the_question_in_text_gives_them() {
    let rows = 2_000;
    let a = archive(rows);
    let turbo = EngineQuestion { charging: Some("turbocharged".into()), ..EngineQuestion::default() };
    for (engine, last) in [(EngineQuestion::default(), ""), (turbo, ", 'charging = \"turbocharged\"'")] {
        let air = "pressure, temperature, humidity";
        let answer = a
            .ask(&format!(
                "try_correction_factor(standard, {air}{last}), correction(standard, {air}{last}), \
                 try_correction_factor('iso-1585', {air}{last})"
            ))
            .await;
        let (plain, full, constant) = (doubles(&answer, 0), field(&answer, 1, "factor"), doubles(&answer, 2));
        let status = answer.column(1).as_struct().column_by_name("status").unwrap().clone();
        let status = status.as_string_view();
        let mut within = 0;
        for i in 0..rows {
            let question = FactorsQuestion { air: a.air(i), engine: engine.clone() };
            let all = factors(&question, &builtin()).unwrap().factors;
            let of = |id: &str| all.iter().find(|f| f.standard == id).unwrap();
            let wanted = of(a.standard[i]);
            same(full[i], wanted.factor.unwrap(), "factor");
            assert_eq!(status.value(i), wanted.status, "status");
            let inside = wanted.status != "outside";
            assert_eq!(plain[i].map(f64::to_bits), wanted.factor.filter(|_| inside).map(f64::to_bits));
            within += usize::from(inside);
            let iso = of("iso-1585");
            let wanted = iso.factor.filter(|_| iso.status != "outside");
            assert_eq!(constant[i].map(f64::to_bits), wanted.map(f64::to_bits));
        }
        assert!(within > 100 && within < rows - 100, "{within} of {rows} within the range");
    }
}

fn question(figure: String, from: &str, site: &str, air: AirQuestion) -> RestateQuestion {
    RestateQuestion {
        figure,
        from: Some(from.into()),
        site: Some(site.into()),
        to: Some("iso-1585".into()),
        air,
        ..RestateQuestion::default()
    }
}

fn restated(figure: String, from: &str, site: &str, air: AirQuestion) -> Restated {
    question(figure, from, site, air).answer(&builtin()).unwrap()
}

fn same_ends(answer: &RecordBatch, column: usize, row: usize, wanted: &Restated) {
    same(field(answer, column, "value")[row], wanted.value, "value");
    same(field(answer, column, "low")[row], wanted.lo95, "low");
    same(field(answer, column, "high")[row], wanted.hi95, "high");
}

/// Against the question that the command line asks, the air known.
#[tokio::test]
async fn restated_in_known_air() {
    let rows = 300;
    let a = archive(rows);
    let call = "restate(power, 'din-70020', 'crank', 'iso-1585', 'crank', pressure, temperature, humidity)";
    let answer = a.ask(call).await;
    for i in 0..rows {
        same_ends(&answer, 0, i, &restated(format!("{}kW", a.power[i]), "din-70020", "crank", a.air(i)));
    }
}

/// Against the question that the command line asks, with intervals that are drawn; powers repeat, as in an archive.
#[tokio::test]
async fn restated_with_a_drawn_interval() {
    let rows = 24;
    let a = archive(rows);
    let round = "round(power / 200) * 200";
    let answer = a
        .ask(&format!(
            "restate({round}, 'din-70020', 'crank', 'iso-1585', 'crank'),
             restate({round}, 'observed', 'wheel', 'iso-1585', 'crank', 99, 25, 50)"
        ))
        .await;
    let air = || AirQuestion {
        pressure: Some("99kPa".into()),
        temperature: Some("25C".into()),
        humidity: Some("50%".into()),
        ..AirQuestion::default()
    };
    let mut wanted = HashMap::new();
    for i in 0..rows {
        let power = (a.power[i] / 200.0).round() * 200.0;
        let [unknown, wheel] = wanted.entry(power.to_bits()).or_insert_with(|| {
            let figure = format!("{power}kW");
            [
                restated(figure.clone(), "din-70020", "crank", AirQuestion::default()),
                restated(figure, "observed", "wheel", air()),
            ]
        });
        assert!(power == 0.0 || unknown.lo95 < unknown.hi95 && wheel.lo95 < wheel.hi95);
        same_ends(&answer, 0, i, unknown);
        same_ends(&answer, 1, i, wheel);
    }
    assert!(wanted.len() < rows);
}

/// Powers that differ from row to row, from standards in a column: the draws of a batch are those of each row alone.
#[tokio::test]
async fn restated_powers_that_differ() {
    let rows = 30;
    let a = archive(rows);
    let answer = a
        .ask(
            "restate(power, standard, 'crank', 'iso-1585', 'crank'),
             restate(power, standard, 'crank', 'iso-1585', 'crank', 99, 25, 50),
             restate(power / 1e15, 'din-70020', 'wheel', 'iso-1585', 'wheel'),
             restate(power, 'din-70020', CASE WHEN power < 450 THEN 'crank' ELSE 'wheel' END, 'iso-1585', 'crank')",
        )
        .await;
    let air = || AirQuestion {
        pressure: Some("99kPa".into()),
        temperature: Some("25C".into()),
        humidity: Some("50%".into()),
        ..AirQuestion::default()
    };
    let unknown = AirQuestion::default;
    for i in 0..rows {
        let figure = || format!("{}kW", a.power[i]);
        same_ends(&answer, 0, i, &restated(figure(), a.standard[i], "crank", unknown()));
        same_ends(&answer, 1, i, &restated(figure(), a.standard[i], "crank", air()));
        let mut tiny = question(format!("{}kW", a.power[i] / 1e15), "din-70020", "wheel", unknown());
        tiny.to_site = Some("wheel".into());
        same_ends(&answer, 2, i, &tiny.answer(&builtin()).unwrap());
        let site = if a.power[i] < 450.0 { "crank" } else { "wheel" };
        same_ends(&answer, 3, i, &restated(figure(), "din-70020", site, unknown()));
    }
}

#[tokio::test]
async fn knock_margin_column() {
    let a = archive(ROWS);
    let sql = "SELECT knock_margin(CASE WHEN humidity < 50 THEN 'en-228-95' ELSE 'RON 98 MON 88' END,
               80 + temperature / 4, 1.5, 'boosted-direct') FROM archive";
    let rows = query(&a.session, sql).await.unwrap();
    let (margin, u) = (field(&rows, 0, "margin"), field(&rows, 0, "standard_uncertainty"));
    let fuels = ["en-228-95", "RON 98 MON 88"].map(|f| parse_fuel(f).unwrap().stock.fuel());
    for i in 0..ROWS {
        let mut point = KnockPoint::unknown();
        point.k = Some(fairpull::fuels::K_BOOSTED_DIRECT);
        point.requirement = Some(Span::new(80.0 + a.temperature[i] / 4.0, 1.5));
        let fuel = if a.humidity[i] < 50.0 { &fuels[0] } else { &fuels[1] };
        let wanted = OctaneIndex.margin(fuel, &point).unwrap().octane;
        same(margin[i], wanted.value, "margin");
        same(u[i], wanted.uncertainty, "uncertainty");
    }
}
