//! Requests that cannot be restated, and numbers that are none.
#![allow(clippy::panic, clippy::unwrap_used)]

mod restating;

use fairpull_core::{Catalogue, Charging, CorrectionStandard, Engine, Ignition, LossModel, Rating};
use fairpull_restate::{
    Figure, Humidity, Interval, Knowledge, KnownAir, RestateError, Site, Span, Target, Treatment, restate,
};
use proptest::prelude::*;
use restating::{catalogue, kw, standards};

#[test]
fn impossible_requests_name_the_reason() {
    const GROSS: &str = r#"
id = "toy-gross-1"
designation = "Toy Gross 1"
title = "Invented gross-power test"
edition = "1"
status = "current"
rating = "gross"
charged = false
reference = { basis = "dry", pressure-kpa = 99.0, vapour-kpa = 1.0, temperature-c = 25.0, kelvin-offset = 273.0 }
spark = { family = "power-law", exponents = [1.0, 0.5] }
source = [{ what = "formula", document = "Toy Gross 1", clause = "5", reading = "derived" }]
"#;
    let gross = fairpull_declared::parse_toml(GROSS, "gross.toml").unwrap();
    let mut all = standards();
    let with_gross: Vec<&dyn CorrectionStandard> = {
        let mut v: Vec<&dyn CorrectionStandard> =
            all.drain(..).map(|s| s as &dyn CorrectionStandard).collect();
        v.push(&gross);
        v
    };
    let c = catalogue(&with_gross);
    let net = kw(400.0).at(Site::Crank).corrected("iso-1585");
    let k = Knowledge::new();
    let mut diesel = Knowledge::new();
    diesel.engine = Some(Engine::new(Ignition::Compression, Charging::Turbocharged));
    let mut turbo = Knowledge::new();
    turbo.engine = Some(Engine::new(Ignition::Spark, Charging::Turbocharged));
    let mut unknown_loss = Knowledge::new();
    unknown_loss.loss = Some("coastdown".to_owned());
    let mut named = Knowledge::new();
    named.loss = Some("coast-down".to_owned());
    let mut few = Knowledge::new();
    few.draws = 3;
    let mut backwards = Knowledge::new();
    backwards.air.temperature_c = Some(Span::new(30.0, 20.0));
    let mut thirteen = Knowledge::new();
    thirteen.month = Some(13);
    let wheel = kw(100.0).at(Site::Wheel).observed();
    let crank = Target::observed_at_crank();
    let wet: Figure = "400 kW; crank; iso-1585; air 98.5kPa, 20C, 140%".parse().unwrap();
    let sae = Target::standard("sae-j1349");
    let messages: Vec<String> = [
        restate(&net, &Target::standard("toy-gross-1"), &c, &k),
        restate(&net.clone().rated(Rating::Gross), &sae, &c, &k),
        restate(&kw(400.0).at(Site::Crank).observed().rated(Rating::Gross), &sae, &c, &k),
        restate(&net, &sae, &c, &diesel),
        restate(&kw(200.0).at(Site::Wheel).corrected("iso-1585"), &sae, &c, &diesel),
        restate(&net, &Target::standard("toy-gross-1"), &c, &turbo),
        restate(&kw(400.0).at(Site::Crank).observed(), &Target::standard("toy-gross-1"), &c, &turbo),
        restate(&net, &Target::standard("sae-j1394"), &c, &k),
        restate(&kw(400.0).at(Site::Crank).corrected("iso1585"), &sae, &c, &k),
        restate(&wheel, &crank, &c, &unknown_loss),
        restate(&wheel, &crank, &c, &named),
        restate(
            &wheel,
            &crank,
            &Catalogue::new(&with_gross, &[&fairpull_losses::CoastDown as &dyn LossModel], &[]).unwrap(),
            &k,
        ),
        restate(&kw(f64::NAN).at(Site::Crank).observed(), &sae, &c, &k),
        restate(&kw(-4.0).at(Site::Crank).observed(), &sae, &c, &k),
        restate(&net, &sae, &c, &few),
        restate(&net, &sae, &c, &backwards),
        restate(&net, &sae, &c, &thirteen),
        restate(&wet, &sae, &c, &k),
        restate(&net.clone().within(Interval::Half(-1.0)), &sae, &c, &k),
    ]
    .into_iter()
    .map(|r| r.unwrap_err().to_string())
    .collect();
    insta::assert_snapshot!(messages.join("\n"), @r#"
    Toy Gross 1: a net figure cannot become a gross figure without a model of the accessories
    ISO 1585: a gross figure cannot become a net figure without a model of the accessories
    SAE J1349: a gross figure cannot become a net figure without a model of the accessories
    ISO 1585: fuel per cycle is missing: give the fuel delivery in mg per cycle and litre of total swept volume (UN R85, Annex 5, 5.4.2.2 (engine factor f_m, as in ISO 1585:1992))
    ISO 1585: fuel per cycle is missing: give the fuel delivery in mg per cycle and litre of total swept volume (UN R85, Annex 5, 5.4.2.2 (engine factor f_m, as in ISO 1585:1992))
    Toy Gross 1: a net figure cannot become a gross figure without a model of the accessories
    Toy Gross 1: does not apply: the text does not cover pressure-charged engines (Toy Gross 1, scope)
    unknown standard "sae-j1394"; the nearest are sae-j1349, sae-j1349-1990, is-14599
    unknown standard "iso1585"; the nearest are iso-1585, is-14599, un-r85
    unknown loss model "coastdown"; the nearest are coast-down, prior-band, eu-2017-2400
    Drag measured on a coast-down: road speed is missing: give the roller surface speed of the point in m/s (power balance of tyre, driveline and flywheel, elementary mechanics)
    no loss model leads from wheel to crank: coast-down: Drag measured on a coast-down: road speed is missing: give the roller surface speed of the point in m/s (power balance of tyre, driveline and flywheel, elementary mechanics)
    figure: figure is not a finite number (W or N·m); give a measured value
    figure: figure is -4000 W or N·m, outside 0 to 100000000 W or N·m (fairpull, what an engine can give)
    3 draws asked for, outside 64 to 65536
    air: intake air temperature from 30 to 20 °C: both ends must be finite numbers, the low end first
    air: month is 13, outside 1 to 12
    air: relative humidity is 140 %, outside 0 to 100 %; give percent, e.g. 55%
    the stated interval of 400 kW; crank; iso-1585; ±-1 kW must have finite ends, the low end first
    "#);
    assert!(matches!(
        restate(&net, &Target::standard("toy-gross-1"), &c, &k),
        Err(RestateError::Refused { refusal: fairpull_core::Refusal::RatingDiffers { .. }, .. })
    ));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_number_makes_restate_panic(
        value in any::<f64>(), rpm in any::<f64>(), ends in any::<[f64; 6]>(), low in any::<f64>(),
        share in any::<(f64, f64)>(), tyre in any::<(f64, f64)>(), from in 0usize..3, to in 0usize..3, id in 0usize..8,
    ) {
        let all = standards();
        let c = catalogue(&all);
        let mut k = Knowledge::new();
        k.draws = 64;
        (k.driveline.load_share, k.driveline.constant_drag) = (Some(share), Some(share));
        k.tyre_share = Some(Span::new(tyre.0, tyre.1));
        k.elevation_m = (id % 2 == 0).then_some(Span::new(low, low));
        k.engine = Some(Engine::new(Ignition::Spark, Charging::None).with_mechanical_efficiency(low));
        let mut figure = kw(value).at_rpm(rpm).at(Site::ALL[from]).corrected(all[id % all.len()].card().id);
        figure.interval = Some(Interval::Half(low));
        if id % 3 == 0 {
            figure.air = KnownAir {
                pressure_kpa: Some(Span::new(ends[0], ends[1])),
                temperature_c: Some(Span::new(ends[2], ends[3])),
                humidity: Some(Humidity::Relative(Span::new(ends[4], ends[5]))),
            };
        }
        for treatment in [Treatment::Observed, Treatment::Corrected("sae-j1349".to_owned())] {
            if let Ok(r) = restate(&figure, &Target { site: Site::ALL[to], treatment }, &c, &k) {
                prop_assert!(r.value.is_finite() && r.lo95 <= r.value && r.value <= r.hi95);
                prop_assert!(r.standard_uncertainty >= 0.0);
            }
        }
    }
}
