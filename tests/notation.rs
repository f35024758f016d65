//! The one-line notation of a figure: written, read back, spoilt, refused.
#![allow(clippy::panic, clippy::unwrap_used)]

use fairpull_core::Rating;
use fairpull_restate::{Figure, Humidity, Interval, KnownAir, Site, Span, Treatment};
use fairpull_uncertainty::Random;
use fairpull_units::Unit;
use proptest::prelude::*;

#[test]
fn the_notation_says_what_the_figure_is() {
    let text = "400 kW @ 6200 rpm; crank; sae-j1349; net; air 985 hPa, 24 C, 40 %; fuel RON 98; ±6";
    let figure: Figure = text.parse().unwrap();
    assert_eq!(figure.air.pressure_kpa, Some(Span::exact(98.5)));
    assert_eq!(figure.air.humidity, Some(Humidity::Relative(Span::exact(0.4))));
    insta::assert_snapshot!(format!("{figure}\n{figure:#}"), @r"
    400 kW @ 6200 rpm; crank; sae-j1349; net; air 98.5 kPa, 24 °C, 40 %; fuel RON 98; ±6 kW
    400kW@6200rpm;crank;sae-j1349;net;air=98.5kPa,24C,40pct;fuel=RON_98;pm=6kW
    ");
    // Bars separate as well, and the interval may be a percentage.
    let bars: Figure =
        "400kW@6200rpm|crank|sae-j1349|net|air 985hPa,24C,40pct|fuel RON 98|±1.5%".parse().unwrap();
    assert_eq!(bars, figure);
    let partly: Figure = "530PS; wheel; observed; air 960..990hPa, 10..25C, dew 3..8C".parse().unwrap();
    assert_eq!(partly.air.pressure_kpa, Some(Span::new(96.0, 99.0)));
    insta::assert_snapshot!(format!("{partly}\n{}", partly.to_link()), @r"
    530 PS; wheel; observed; air 96..99 kPa, 10..25 °C, dew 3..8 °C
    530PS;wheel;observed;air=96..99kPa,10..25C,dew=3..8C
    ");
}

#[test]
fn the_examples_of_the_guide_read_back() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../docs/notation.md");
    let guide = std::fs::read_to_string(path).unwrap();
    let blocks: Vec<&str> =
        guide.split("```figure\n").skip(1).filter_map(|b| b.split("```").next()).collect();
    let (people, links) = (blocks[0], blocks[1]);
    assert!(people.lines().count() == 5 && links.lines().count() == 2);
    for line in people.lines() {
        assert_eq!(line.parse::<Figure>().unwrap().to_string(), line);
    }
    for line in links.lines() {
        assert_eq!(line.parse::<Figure>().unwrap().to_link(), line);
    }
}

#[test]
fn spoilt_figures_are_read_or_refused() {
    let good = "400 kW @ 6200 rpm; crank; sae-j1349; net; air 96..99kPa, 24 °C, rh 0.4; fuel RON_98~3b~; range 3..4kW";
    let letters: Vec<char> = "0123456789eE.,;|=@~_%±° -+kWNm·rpmhatCdirvpcs".chars().collect();
    let mut random = Random::new(3);
    let mut read = 0;
    for _ in 0..20_000 {
        let mut text: Vec<char> = good.chars().collect();
        for _ in 0..1 + random.bits() % 5 {
            let i = random.bits() as usize % text.len();
            let c = letters[random.bits() as usize % letters.len()];
            match random.bits() % 4 {
                0 => text[i] = c,
                1 => text.insert(i, c),
                2 => drop(text.remove(i)),
                _ => text.rotate_left(i),
            }
        }
        let text: String = text.into_iter().collect();
        match text.parse::<Figure>() {
            Ok(f) => {
                assert_eq!(f.to_link().parse::<Figure>().as_ref(), Ok(&f), "{text}");
                read += 1;
            }
            Err(e) => assert!(text.get(e.span).is_some() && !e.message.is_empty(), "{text}"),
        }
    }
    println!("notation | 20000 spoilt texts, {read} still figures, the rest refused");
    assert!(read > 100);
}

#[test]
fn a_text_that_is_no_figure_is_told_why() {
    let texts = [
        "",
        "400",
        "400 kg",
        "1,234 kW",
        "400 kW @ 6200",
        "400 kW; cranck",
        "400 kW; crank; crank",
        "400 kW; iso-1585; sae-j1349",
        "400 kW; ISO 1585",
        "400 kW; air 985",
        "400 kW; air 40 bananas",
        "400 kW; air 99..98 kPa",
        "400 kW; air 20C, 21C",
        "400 kW; air",
        "400 kW; ±",
        "400 kW; ±-3",
        "400 kW;; net",
        "400 kW; fuel ~zz~",
        "400 kW; air 1.2bar(g)",
    ];
    let messages: Vec<String> = texts.iter().map(|t| t.parse::<Figure>().unwrap_err().to_string()).collect();
    insta::assert_snapshot!(messages.join("\n"), @r#"
    "": the figure: "": empty where a power was expected; units of power: kW, W, MW, PS, hp, lbf·ft/s; a torque in N·m or lbf·ft is a figure too
    "400": the figure: "400": the unit is missing; units of power: kW, W, MW, PS, hp, lbf·ft/s; a torque in N·m or lbf·ft is a figure too
    "400 kg": the figure: "400 kg": kg is a unit of mass, but a power was expected; units of power: kW, W, MW, PS, hp, lbf·ft/s; a torque in N·m or lbf·ft is a figure too
    "1,234 kW": the figure: "1,234 kW": the comma can be a decimal comma or group thousands; write 1234 or 1.234 with a point; a torque in N·m or lbf·ft is a figure too
    "400 kW @ 6200": the engine speed: " 6200": the unit is missing; units of rotational speed: rpm, rad/s, rev/s
    "400 kW; cranck": "cranck" is no word of the notation; the nearest are crank, range, air; a standard is written by its id, e.g. iso-1585
    "400 kW; crank; crank": the site stands twice: keep one
    "400 kW; iso-1585; sae-j1349": the treatment stands twice: keep one
    "400 kW; ISO 1585": "ISO" is no word of the notation; the nearest are air, hub, net; a standard is written by its id, e.g. iso-1585
    "400 kW; air 985": the air: "985": the unit is missing; units of pressure: kPa, Pa, hPa, MPa, mbar, bar, psi, inHg, mmHg, Torr, inH2O, mmH2O, atm, kgf/cm²; add (a) for absolute, (g) for gauge; a reading is a station pressure, a temperature, 40%, rh 0.4, dew 12C or vapour 1.2kPa, with a decimal point, separated by commas
    "400 kW; air 40 bananas": the air: "40 bananas": "bananas" is not a known unit of pressure; units of pressure: kPa, Pa, hPa, MPa, mbar, bar, psi, inHg, mmHg, Torr, inH2O, mmH2O, atm, kgf/cm²; add (a) for absolute, (g) for gauge; a reading is a station pressure, a temperature, 40%, rh 0.4, dew 12C or vapour 1.2kPa, with a decimal point, separated by commas
    "400 kW; air 99..98 kPa": the air: 99..98: the low end comes first; a reading is a station pressure, a temperature, 40%, rh 0.4, dew 12C or vapour 1.2kPa, with a decimal point, separated by commas
    "400 kW; air 20C, 21C": the temperature stands twice: keep one
    "400 kW; air": air is given without a value
    "400 kW; ±": the interval: "": empty where a power was expected; units of power: kW, W, MW, PS, hp, lbf·ft/s
    "400 kW; ±-3": the interval: ±-3 must not be negative
    "400 kW;; net": an empty item: remove the separator or write what belongs there
    "400 kW; fuel ~zz~": "~zz~" is no letter: write its code in hex
    "400 kW; air 1.2bar(g)": the air: bar(g) is a gauge pressure: give the absolute one, e.g. 98.5 kPa; a reading is a station pressure, a temperature, 40%, rh 0.4, dew 12C or vapour 1.2kPa, with a decimal point, separated by commas
    "#);
}

fn finite() -> impl Strategy<Value = f64> {
    prop_oneof![
        -1e6..1e6f64,
        any::<f64>()
            .prop_filter("finite", |x| x.is_finite() && x.abs() < 1e200 && (*x == 0.0 || x.abs() > 1e-200)),
        Just(0.0),
    ]
}

fn a_span() -> impl Strategy<Value = Span> {
    (finite(), finite(), any::<bool>())
        .prop_map(|(a, b, one)| if one { Span::exact(a) } else { Span::new(a.min(b), a.max(b)) })
}

fn warm_span() -> impl Strategy<Value = Span> {
    // No temperature lies below absolute zero.
    a_span().prop_map(|s| Span::new(s.low.max(-273.0), s.high.max(-273.0)))
}

fn a_figure() -> impl Strategy<Value = Figure> {
    let units: Vec<&'static Unit> = [fairpull_units::Dimension::Power, fairpull_units::Dimension::Torque]
        .into_iter()
        .flat_map(fairpull_units::units_of)
        .collect();
    let humidity = prop_oneof![
        a_span().prop_map(Humidity::Relative),
        warm_span().prop_map(Humidity::DewPoint),
        a_span().prop_map(Humidity::Vapour),
    ];
    let treatment = prop_oneof![
        Just(Treatment::Observed),
        "[a-z]{2,4}-[0-9]{3,5}(-[0-9]{4})?".prop_map(Treatment::Corrected),
        "[A-Za-z0-9.+-]{1,12}".prop_map(Treatment::Corrected),
        "[a-zß°;|~=% ]{1,6}x"
            .prop_map(|s| Treatment::Corrected(s.split_whitespace().collect::<Vec<_>>().join(" "))),
    ];
    let rating = prop_oneof![Just(Rating::Net), Just(Rating::Gross), Just(Rating::Either)];
    let interval = prop_oneof![
        finite().prop_map(|x| Interval::Half(x.abs())),
        a_span().prop_map(|s| Interval::Ends(s.low, s.high)),
    ];
    let site = prop_oneof![Just(Site::Crank), Just(Site::Wheel), Just(Site::Hub)];
    let fuel = "[A-Za-z0-9ü%;]{1,6}( [A-Za-z0-9.+-]{1,4})?";
    let air = (
        proptest::option::of(
            a_span().prop_map(|s| Span::new(s.low.abs().min(s.high.abs()), s.low.abs().max(s.high.abs()))),
        ),
        proptest::option::of(warm_span()),
        proptest::option::of(humidity),
    );
    (
        finite(),
        proptest::sample::select(units),
        proptest::option::of(finite()),
        proptest::option::of(site),
        proptest::option::of(treatment),
        proptest::option::of(rating),
        air,
        proptest::option::of(fuel),
        proptest::option::of(interval),
    )
        .prop_map(
            |(value, unit, engine_speed_rpm, site, treatment, rating, (p, t, h), fuel, interval)| Figure {
                engine_speed_rpm,
                site,
                treatment,
                rating,
                air: KnownAir { pressure_kpa: p, temperature_c: t, humidity: h },
                fuel,
                interval,
                ..Figure::new(value, unit).unwrap()
            },
        )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn printed_figures_read_back(figure in a_figure()) {
        let people = figure.to_string();
        prop_assert_eq!(people.parse::<Figure>().map_err(|e| e.to_string()), Ok(figure.clone()), "{}", people);
        let link = figure.to_link();
        prop_assert_eq!(link.parse::<Figure>().map_err(|e| e.to_string()), Ok(figure), "{}", link);
        // RFC 3986, 3.5: unreserved, sub-delimiters, colon, at, slash, question mark.
        prop_assert!(link.chars().all(|c| c.is_ascii_alphanumeric() || "-._~!$&'()*+,;=:@/?".contains(c)), "{}", link);
    }

    #[test]
    fn no_text_makes_the_reader_panic(text in "[0-9a-zA-Z@;|=.,~%±°_ +-]{0,60}", odd in any::<String>()) {
        for t in [text, odd] {
            match t.parse::<Figure>() {
                Ok(f) => prop_assert_eq!(f.to_string().parse::<Figure>().ok(), Some(f)),
                Err(e) => prop_assert!(t.get(e.span.clone()).is_some() && !e.message.is_empty()),
            }
        }
    }
}
