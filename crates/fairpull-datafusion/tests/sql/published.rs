//! Against what is printed elsewhere.

use fairpull::builtin;
use fairpull::core::{ChargeCooling, Charging, Engine, Ignition, Temperature};
use fairpull::humid::Method;
use toml::{Table, Value};

use super::{field, one, query, session};

/// Half a unit of the last printed digit.
fn half_digit(printed: &str) -> f64 {
    let decimals = printed.split(['e', 'E']).next().unwrap().split_once('.').map_or(0, |(_, d)| d.len());
    let exponent: i32 = printed.split_once(['e', 'E']).map_or(0, |(_, e)| e.parse().unwrap());
    format!("5e{}", exponent - decimals as i32 - 1).parse().unwrap()
}

fn fixture(name: &str) -> Table {
    let path = format!("{}/../../fixtures/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path}: {e}")).parse().unwrap()
}

/// NIST SP 811 (2008), appendix B.8: every factor that the fixture quotes as printed.
#[tokio::test]
async fn units_as_nist_sp_811_prints_them() {
    let session = session(1, 8192);
    let file = fixture("units.toml");
    let mut checked = 0;
    for row in file["unit"].as_array().unwrap() {
        let Some(printed) = row.get("sp811").and_then(Value::as_str) else { continue };
        let (symbol, dimension) = (row["symbol"].as_str().unwrap(), row["dimension"].as_str().unwrap());
        if dimension.starts_with("temperature") {
            continue; // a factor says nothing of a scale with an offset
        }
        let si = fairpull::units::Dimension::ALL.into_iter().find(|d| d.name() == dimension).unwrap();
        let got = one(&session, &format!("SELECT convert(1, '{symbol}', '{}')", si.si_symbol())).await;
        let off = (got - printed.parse::<f64>().unwrap()).abs();
        assert!(off <= half_digit(printed) * (1.0 + 1e-6), "{symbol}: {got}, printed {printed}");
        checked += 1;
    }
    assert!(checked >= 28, "only {checked} units");
    // B.9: t/°C = (t/°F - 32)/1.8
    assert!((one(&session, "SELECT convert(212, 'F', 'C')").await - 100.0).abs() < 1e-12);
}

fn engine(e: &Engine) -> String {
    let mut fields = vec![
        ("ignition", if e.ignition == Ignition::Spark { "\"spark\"" } else { "\"compression\"" }.to_owned()),
        (
            "charging",
            match e.charging {
                Charging::None => "\"none\"",
                Charging::Supercharged => "\"supercharged\"",
                Charging::Turbocharged => "\"turbocharged\"",
            }
            .to_owned(),
        ),
        (
            "charge_cooling",
            match e.charge_cooling {
                ChargeCooling::None => "\"none\"",
                ChargeCooling::Air => "\"air\"",
                ChargeCooling::Liquid => "\"liquid\"",
            }
            .to_owned(),
        ),
    ];
    fields.extend(e.fuel_per_cycle.map(|q| ("fuel_per_stroke", format!("\"{q}mg/L\""))));
    fields.extend(e.charge_pressure_ratio.map(|r| ("charge_pressure_ratio", format!("{r:?}"))));
    fields.extend(e.mechanical_efficiency.map(|m| ("mechanical_efficiency", format!("\"{}%\"", 100.0 * m))));
    let fields: Vec<String> = fields.iter().map(|(k, v)| format!("\"{k}\": {v}")).collect();
    format!("{{{}}}", fields.join(", "))
}

/// The examples of the cards of every standard, among them the printed table of 80/1269/EEC of 1980 and the worked
/// examples of Mathur and Sharma (2010), each to its last printed digit. The source of each stands in its card.
#[tokio::test]
async fn factors_as_the_cards_print_them() {
    let session = session(1, 8192);
    let catalogue = builtin();
    let mut checked = 0;
    for standard in catalogue.standards() {
        let card = standard.card();
        for example in card.examples {
            let t = Temperature::from_celsius(example.temperature_c);
            let saturation = Method::default().saturation(t).unwrap().kilopascals();
            let humidity = 100.0 * example.vapour_kpa / saturation;
            let call = format!(
                "correction('{}', {:?}, {:?}, {humidity:?}, '{}')",
                card.id,
                example.total_kpa,
                example.temperature_c,
                engine(&example.engine)
            );
            let rows =
                query(&session, &format!("SELECT {call}")).await.unwrap_or_else(|e| panic!("{call}: {e}"));
            let got = field(&rows, 0, "factor")[0].unwrap();
            let off = (got - example.printed.parse::<f64>().unwrap()).abs();
            assert!(off <= half_digit(example.printed) * (1.0 + 1e-6), "{call}: {got}, {}", example.printed);
            checked += 1;
        }
    }
    assert!(checked >= 18, "only {checked} examples");
}

/// Mathur and Sharma, Internal Combustion Engine (2010), chapter 27: 640 kW at 98 kPa, 303 K and a vapour pressure of
/// 0.8 × 4.2 kPa are 683 kW at the reference of ISO 15550.
#[tokio::test]
async fn a_worked_example_of_iso_15550() {
    let humidity = 100.0 * 0.8 * 4.2
        / Method::default().saturation(Temperature::from_celsius(30.0)).unwrap().kilopascals();
    let call = format!("SELECT 640 * correction_factor('iso-15550', 98, 30, {humidity:?})");
    let got = one(&session(1, 8192), &call).await;
    assert!((got - 683.0).abs() <= 0.5, "{got}");
}

/// Steam tables print 3.1697 to 3.1699 kPa for saturation at 25 °C (IAPWS SR1-86).
#[tokio::test]
async fn vapour_pressure_as_steam_tables_print_it() {
    let session = session(1, 8192);
    let full = one(&session, "SELECT vapour_pressure(25, 100)").await;
    assert!((3.1697..=3.1699).contains(&full), "{full}");
    let half = one(&session, "SELECT vapour_pressure(25, 50)").await;
    assert_eq!(half, 0.5 * full);
}

/// Octane index RON - K (RON - MON): 95 + 0.2 × 10 = 97 by hand; Kalghatgi, SAE 2001-01-3584, from memory.
#[tokio::test]
async fn knock_margin_by_hand() {
    let sql = "SELECT knock_margin('RON 95 MON 85', 96.0, 0.0, '-0.2 ± 0.3')";
    let rows = query(&session(1, 8192), sql).await.unwrap();
    assert!((field(&rows, 0, "margin")[0].unwrap() - 1.0).abs() < 1e-12);
    // ten octane numbers of sensitivity times 0.3 alone are 3
    assert!(field(&rows, 0, "standard_uncertainty")[0].unwrap() > 3.0);
}

/// JCGM 100:2008, 4.4.3 and table 1: twenty readings, mean 100.14 °C and standard uncertainty 0.33 °C as printed.
#[tokio::test]
async fn mean_as_the_guide_prints_it() {
    let readings = "96.90 98.18 98.25 98.61 99.03 99.49 99.56 99.74 99.89 100.07 100.33 100.42 100.68 100.95 \
                    101.11 101.20 101.57 101.84 102.36 102.72";
    let values: Vec<String> = readings.split_whitespace().map(|r| format!("({r})")).collect();
    let sql = format!("SELECT mean_power(t) FROM (VALUES {}) AS v(t)", values.join(", "));
    let rows = query(&session(3, 4), &sql).await.unwrap();
    assert!((field(&rows, 0, "mean")[0].unwrap() - 100.14).abs() <= 0.0051);
    assert!((field(&rows, 0, "standard_uncertainty")[0].unwrap() - 0.33).abs() <= 0.005);
}

/// Two groups of four: scipy 1.17.1, `ttest_ind(equal_var=False)`.
#[tokio::test]
async fn difference_as_scipy_gives_it() {
    let sql = "SELECT gain(p, s, 'stock', 'tuned') FROM (VALUES
        (148.2, 'stock'), (149.1, 'stock'), (147.6, 'stock'), (148.8, 'stock'),
        (153.0, 'tuned'), (153.9, 'tuned'), (151.8, 'tuned'), (154.3, 'tuned')) AS v(p, s)";
    let rows = query(&session(2, 3), sql).await.unwrap();
    let of = |name| field(&rows, 0, name)[0].unwrap();
    assert!((of("difference_low") - 3.153712993558881).abs() < 1e-9);
    assert!((of("difference_high") - 6.496287006441096).abs() < 1e-9);
    // the ratio of the means is 1.0325; that of the geometric means differs by less than a hundredth of a percent
    assert!((of("gain") - 3.25).abs() < 0.01, "{}", of("gain"));
    assert!(of("low") < of("gain") && of("gain") < of("high"));
}
