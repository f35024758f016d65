//! Words in headers and the roles they point to.

use crate::{Role, case};

/// Words of a role: all words of one group must stand in the name (each may be the head of a longer word); a word
/// with `!` before it must not. Longer groups are surer. English, German, French, Italian, Spanish, Dutch.
pub(crate) static WORDS: &[(Role, &[&[&str]])] = &[
    (
        Role::Time,
        &[
            &["time", "!timing"],
            &["zeit"],
            &["temps"],
            &["tempo"],
            &["tiempo"],
            &["tijd"],
            &["elapsed"],
            &["timestamp"],
        ],
    ),
    (
        Role::RollerSpeed,
        &[
            &["roller", "speed"],
            &["drum", "speed"],
            &["rollengeschw"],
            &["rollen", "geschw"],
            &["rolle", "geschw"],
            &["vitesse", "rouleau"],
            &["velocita", "rullo"],
            &["roller", "surface"],
        ],
    ),
    (
        Role::RollerRotation,
        &[
            &["roller", "rpm"],
            &["drum", "rpm"],
            &["roller", "rotation"],
            &["rollendrehzahl"],
            &["rolle", "drehzahl"],
            &["roller", "rev"],
        ],
    ),
    (
        Role::RoadSpeed,
        &[
            &["vehicle", "speed"],
            &["road", "speed"],
            &["wheel", "speed"],
            &["gps", "speed"],
            &["car", "speed"],
            &["fahrzeug", "geschw"],
            &["geschw"],
            &["vitesse"],
            &["velocita"],
            &["velocidad"],
            &["snelheid"],
            &["speed", "!engine", "!turbo", "!shaft", "!hub"],
            &["vss"],
        ],
    ),
    (
        Role::EngineSpeed,
        &[
            &["engine", "speed"],
            &["engine", "rpm"],
            &["motor", "drehzahl"],
            &["motordrehzahl"],
            &["drehzahl"],
            &["rpm", "!roller", "!drum", "!hub", "!turbo"],
            &["regime"],
            &["giri"],
            &["toerental"],
            &["revs"],
        ],
    ),
    (
        Role::BrakeForce,
        &[
            &["brake", "force"],
            &["retarder", "force"],
            &["bremskraft"],
            &["zugkraft"],
            &["tractive", "force"],
            &["load", "cell"],
            &["force", "frein"],
        ],
    ),
    (
        Role::HubTorque,
        &[
            &["hub", "torque"],
            &["axle", "torque"],
            &["nabenmoment"],
            &["naben", "drehmoment"],
            &["wheel", "torque"],
        ],
    ),
    (Role::HubRotation, &[&["hub", "speed"], &["hub", "rpm"], &["axle", "rpm"], &["nabendrehzahl"]]),
    (
        Role::IntakeTemperature,
        &[
            &["intake", "temp"],
            &["inlet", "air", "temp"],
            &["iat"],
            &["ansaug", "temp"],
            &["air", "temp", "!ambient"],
            &["temperature", "admission"],
            &["air", "filter", "temp"],
        ],
    ),
    (
        Role::ChargeTemperature,
        &[
            &["charge", "temp"],
            &["ladeluft", "temp"],
            &["manifold", "temp"],
            &["intercooler", "temp"],
            &["post", "intercooler"],
            &["act"],
        ],
    ),
    (
        Role::CoolantTemperature,
        &[
            &["coolant"],
            &["ect"],
            &["clt"],
            &["water", "temp"],
            &["kuhlmittel"],
            &["kuehlmittel"],
            &["wassertemp"],
            &["kuhlwasser"],
            &["eau", "temp"],
        ],
    ),
    (
        Role::OilTemperature,
        &[&["oil", "temp"], &["oltemp"], &["oeltemp"], &["ol", "temp"], &["temp", "huile"]],
    ),
    (Role::GearboxTemperature, &[&["gearbox", "temp"], &["trans", "temp"], &["getriebe", "temp"]]),
    (
        Role::ExhaustTemperature,
        &[&["egt"], &["exhaust", "temp"], &["abgas", "temp"], &["temp", "echappement"]],
    ),
    (
        Role::ManifoldPressure,
        &[
            &["manifold", "pressure"],
            &["map"],
            &["boost"],
            &["ladedruck"],
            &["saugrohr", "druck"],
            &["pression", "collecteur"],
            &["suralimentation"],
        ],
    ),
    (
        Role::PreTurbinePressure,
        &[
            &["pre", "turb", "press"],
            &["exhaust", "manifold", "press"],
            &["emp"],
            &["turbine", "inlet", "press"],
            &["vor", "turb", "druck"],
            &["abgasgegendruck", "vor"],
        ],
    ),
    (
        Role::ExhaustBackPressure,
        &[
            &["back", "pressure"],
            &["backpressure"],
            &["abgasgegendruck"],
            &["post", "turb", "press"],
            &["exhaust", "press"],
        ],
    ),
    (
        Role::CompressorInletPressure,
        &[&["compressor", "inlet", "press"], &["inlet", "depression"], &["verdichter", "vor", "druck"]],
    ),
    (
        Role::CompressorOutletPressure,
        &[
            &["compressor", "outlet", "press"],
            &["pre", "intercooler", "press"],
            &["verdichter", "nach", "druck"],
        ],
    ),
    (
        Role::CompressorOutletTemperature,
        &[
            &["compressor", "outlet", "temp"],
            &["pre", "intercooler", "temp"],
            &["verdichter", "nach", "temp"],
        ],
    ),
    (
        Role::FuelPressure,
        &[
            &["fuel", "press"],
            &["rail", "press"],
            &["kraftstoffdruck"],
            &["raildruck"],
            &["pression", "carburant"],
        ],
    ),
    (Role::OilPressure, &[&["oil", "press"], &["oldruck"], &["oeldruck"], &["pression", "huile"]]),
    (
        Role::FuelFlow,
        &[&["fuel", "flow"], &["fuel", "mass"], &["kraftstoff", "massen"], &["kraftstoffmasse"]],
    ),
    (
        Role::FuelVolumeFlow,
        &[&["fuel", "flow"], &["fuel", "volume"], &["kraftstoff", "volumen"], &["fuel", "consumption"]],
    ),
    (Role::AirFlow, &[&["air", "flow"], &["maf"], &["luftmasse"], &["air", "mass"], &["debit", "air"]]),
    (Role::Lambda, &[&["lambda"], &["λ"], &["equivalence"]]),
    (
        Role::SparkAdvance,
        &[
            &["spark"],
            &["ignition", "advance"],
            &["ignition", "angle"],
            &["ignition", "timing"],
            &["zundwinkel"],
            &["zuendwinkel"],
            &["avance"],
        ],
    ),
    (Role::KnockRetard, &[&["knock", "retard"], &["knock", "correction"], &["klopf"], &["timing", "pull"]]),
    (Role::InjectorDuty, &[&["injector", "duty"], &["idc"], &["duty", "inj"]]),
    (Role::Throttle, &[&["throttle"], &["tps"], &["drosselklappe"], &["papillon"], &["farfalla"]]),
    (Role::Pedal, &[&["pedal"], &["accelerator"]]),
    (Role::Gear, &[&["gear", "!temp", "!ratio", "!box"], &["gang"], &["rapport"], &["marcia"]]),
    (
        Role::AmbientPressure,
        &[
            &["baro"],
            &["ambient", "press"],
            &["atmospheric", "press"],
            &["luftdruck"],
            &["umgebungsdruck"],
            &["pression", "atm"],
        ],
    ),
    (
        Role::AmbientTemperature,
        &[
            &["ambient", "temp"],
            &["room", "temp"],
            &["cell", "temp"],
            &["umgebungstemp"],
            &["raumtemp"],
            &["temp", "ambiante"],
        ],
    ),
    (Role::RelativeHumidity, &[&["humidity"], &["feuchte"], &["humidite"], &["rh"], &["umidita"]]),
    (Role::DewPoint, &[&["dew"], &["taupunkt"], &["rosee"]]),
    (Role::Acceleration, &[&["accel", "!pedal", "!erator"], &["beschleunigung"]]),
    (Role::Distance, &[&["distance"], &["strecke"], &["weg"]]),
    (Role::Height, &[&["altitude"], &["elevation"], &["height"], &["hohe"], &["hoehe"]]),
    (Role::Latitude, &[&["latitude"], &["lat"], &["breitengrad"]]),
    (Role::Longitude, &[&["longitude"], &["lon"], &["laengengrad"], &["langengrad"]]),
    (Role::SupplyVoltage, &[&["battery"], &["voltage"], &["batterie"], &["vbat"]]),
];

/// Names too bare to point to a role alone: with a unit of the role's dimension beside them they do. The name must
/// hold these words and no other.
pub(crate) static BARE: &[(Role, &[&[&str]])] = &[
    (Role::RollerSpeed, &[&["roller"], &["drum"], &["rolle"], &["rouleau"], &["rullo"]]),
    (Role::RollerRotation, &[&["roller"], &["drum"], &["rolle"], &["rouleau"], &["rullo"]]),
    (Role::EngineSpeed, &[&["engine"], &["motor"], &["moteur"], &["motore"]]),
    (Role::HubTorque, &[&["hub"], &["axle"], &["nabe"]]),
    (Role::HubRotation, &[&["hub"], &["axle"], &["nabe"]]),
    (
        Role::IntakeTemperature,
        &[&["intake"], &["inlet"], &["ansaugluft"], &["intake", "air"], &["inlet", "air"]],
    ),
    (Role::ChargeTemperature, &[&["charge"], &["charge", "air"], &["ladeluft"]]),
    (Role::ExhaustTemperature, &[&["exhaust"], &["exhaust", "gas"], &["abgas"]]),
    (Role::OilTemperature, &[&["oil"], &["engine", "oil"], &["ol"], &["oel"]]),
    (Role::OilPressure, &[&["oil"], &["engine", "oil"], &["ol"], &["oel"]]),
    (Role::GearboxTemperature, &[&["gearbox"], &["gearbox", "oil"], &["getriebe"]]),
    (Role::ManifoldPressure, &[&["manifold"], &["intake", "manifold"], &["saugrohr"]]),
    (Role::PreTurbinePressure, &[&["pre", "turbine"], &["before", "turbine"], &["vor", "turbine"]]),
    (Role::FuelPressure, &[&["fuel", "rail"], &["rail"]]),
    (Role::AmbientTemperature, &[&["ambient"], &["room"], &["ambient", "air"]]),
    (Role::AmbientPressure, &[&["ambient"], &["room"], &["ambient", "air"]]),
];

/// Lower case, accents dropped, split at everything that is no letter, and at a capital after a small letter.
pub(crate) fn words_of(name: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut small = false;
    for c in name.chars() {
        let plain = case::small(c);
        if !c.is_alphabetic() || (plain != c && small) {
            words.push(String::new());
        }
        // scripts behind Cyrillic have no small letters, but for a second Latin block
        small = plain == c && c.is_alphabetic() && matches!(c, ..'\u{530}' | '\u{1e00}'..'\u{2000}');
        if c.is_alphabetic()
            && let Some(w) = words.last_mut()
        {
            w.push(unaccented(plain));
        }
    }
    words.retain(|w| !w.is_empty());
    words
}

const fn unaccented(c: char) -> char {
    match c {
        'ä' | 'à' | 'á' | 'â' => 'a',
        'ö' | 'ó' | 'ô' => 'o',
        'ü' | 'ú' | 'ù' | 'û' => 'u',
        'é' | 'è' | 'ê' | 'ë' => 'e',
        'í' | 'ì' | 'î' => 'i',
        c => c,
    }
}

/// How well a name fits a group: letters matched, or none.
pub(crate) fn fit(words: &[String], group: &[&str]) -> Option<usize> {
    let mut letters = 0;
    for g in group {
        match g.strip_prefix('!') {
            Some(not) if words.iter().any(|w| w.starts_with(not)) => return None,
            Some(_) => {}
            // Short words must stand alone: `map` is not in `mapped`; longer ones may stand inside a compound.
            None if words.iter().any(|w| if g.len() <= 3 { w == g } else { w.contains(g) }) => {
                letters += g.len()
            }
            None => return None,
        }
    }
    Some(letters)
}
