//! docs/writing-a-plugin.md says that its code runs: here it does, word for word.

#[path = "toy_standard.rs"]
mod toy_standard;

use fairpull_core::{
    AbsolutePressure, Air, Catalogue, Charging, CorrectionStandard, Engine, Ignition, Temperature,
    VapourPressure,
};
use toy_standard::Toy1;

const GUIDE: &str = include_str!("../docs/writing-a-plugin.md");
const TOY: &str = include_str!("toy_standard.rs");

fairpull_conformance::standard_tests!(toy_1, crate::Toy1);

/// The code blocks of a language.
fn blocks(language: &str) -> Vec<&'static str> {
    let open = format!("```{language}\n");
    GUIDE.split(open.as_str()).skip(1).filter_map(|rest| rest.split("```").next()).collect()
}

#[test]
fn the_guide_shows_this_very_file() {
    assert_eq!(blocks("rust").first().copied(), Some(TOY));
    assert!(TOY.lines().count() <= 40, "{} lines", TOY.lines().count());
}

#[test]
fn the_one_line_of_tests_is_the_one_used_here() {
    let line = blocks("rust")[1];
    assert_eq!(line.lines().count(), 1);
    assert!(include_str!("plugin_guide.rs").contains(line));
}

#[test]
fn a_catalogue_of_ones_own() -> Result<(), Box<dyn std::error::Error>> {
    let air = Air::new(
        AbsolutePressure::from_kilopascals(99.0),
        Temperature::from_celsius(20.0),
        VapourPressure::from_kilopascals(1.0),
    )?;
    let engine = Engine::new(Ignition::Spark, Charging::None);
    let standards: [&dyn CorrectionStandard; 2] = [&Toy1, &fairpull_iso_1585::Iso1585];
    let catalogue = Catalogue::new(&standards, &[], &[])?; // an id or alias that stands twice is an error
    let factor = catalogue.standard("toy-1").ok_or("no such standard")?.factor(&air, &engine)?;
    assert_eq!(factor.value(), 1.0);
    let here = include_str!("plugin_guide.rs");
    for line in blocks("rust")[2].lines() {
        assert!(here.contains(line), "{line}");
    }
    Ok(())
}

#[test]
fn the_declaration_gives_the_same_bits() {
    let text = blocks("toml")[0];
    assert!(text.lines().count() <= 15, "{} lines", text.lines().count());
    let declared = fairpull_declared::parse_toml(text, "writing-a-plugin.md").expect("a declaration");
    assert_eq!(fairpull_conformance::standard::run(&declared), []);
    for charging in [Charging::None, Charging::Turbocharged] {
        let engine = Engine::new(Ignition::Spark, charging);
        for (kpa, celsius) in [(84.5, 28.0), (99.0, 20.0), (104.0, -10.0), (101.3, 35.5)] {
            let air = Air::new(
                AbsolutePressure::from_kilopascals(kpa),
                Temperature::from_celsius(celsius),
                VapourPressure::from_kilopascals(0.7),
            )
            .expect("an air that can exist");
            let [built, read] = [Toy1.factor(&air, &engine), declared.factor(&air, &engine)]
                .map(|f| f.expect("a factor").value().to_bits());
            assert_eq!(built, read);
        }
    }
    let diesel = Engine::new(Ignition::Compression, Charging::None);
    let air = Air::new(
        AbsolutePressure::from_kilopascals(99.0),
        Temperature::from_celsius(20.0),
        VapourPressure::from_kilopascals(1.0),
    )
    .expect("an air that can exist");
    assert!(Toy1.factor(&air, &diesel).is_err() && declared.factor(&air, &diesel).is_err());
}
