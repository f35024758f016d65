//! One plug-in over whole columns: weather readings of a day, points of a curve. What is refused is `NaN` there.

use fairpull::EngineQuestion;
use fairpull::core::{
    AbsolutePressure, Air, CoastDownForce, DrivePoint, Driveline, Element, EngineSpeed, Gearbox,
    PowerAtWheels, RoadSpeed, Temperature, VapourPressure,
};
use wasm_bindgen::JsValue;
use wasm_bindgen::prelude::wasm_bindgen;

use crate::Fault;
use crate::questions::{plug_ins, read};

/// Factors of one standard. `engine` is the JSON of an engine; the columns are total pressure (kPa), vapour pressure
/// (kPa) and temperature (°C). A row is refused (`NaN`) when the standard refuses it.
///
/// # Errors
/// The JSON text of a [`Fault`] for an unknown id, an engine that cannot be, or columns of different length.
#[wasm_bindgen]
pub fn factor_many(
    id: &str,
    engine: &str,
    total_kpa: &[f64],
    vapour_kpa: &[f64],
    temperature_c: &[f64],
) -> Result<Vec<f64>, JsValue> {
    factors(id, engine, total_kpa, vapour_kpa, temperature_c).map_err(|f| JsValue::from_str(&f.json()))
}

/// The same for Rust callers.
///
/// # Errors
/// [`Fault`] as above.
pub fn factors(
    id: &str,
    engine: &str,
    total_kpa: &[f64],
    vapour_kpa: &[f64],
    temperature_c: &[f64],
) -> Result<Vec<f64>, Fault> {
    let standard = plug_ins().standard(id).ok_or_else(|| unknown(id))?;
    let engine = read::<EngineQuestion>(engine)?.engine()?;
    same_length(&[total_kpa, vapour_kpa, temperature_c])?;
    let one = |((total, vapour), t): ((&f64, &f64), &f64)| {
        Air::new(
            AbsolutePressure::from_kilopascals(*total),
            Temperature::from_celsius(*t),
            VapourPressure::from_kilopascals(*vapour),
        )
        .and_then(|air| standard.factor(&air, &engine))
        .map_or(f64::NAN, |f| f.value())
    };
    Ok(total_kpa.iter().zip(vapour_kpa).zip(temperature_c).map(one).collect())
}

/// Observed power at the crankshaft (W) by one loss model. `driveline` is the JSON of a driveline; the columns are
/// observed power at the wheels (W), road speed (m/s) and engine speed (1/min).
///
/// # Errors
/// The JSON text of a [`Fault`] for an unknown id, a driveline that cannot be, or columns of different length.
#[wasm_bindgen]
pub fn crank_many(
    id: &str,
    driveline: &str,
    wheel_w: &[f64],
    road_speed_m_s: &[f64],
    engine_speed_rpm: &[f64],
) -> Result<Vec<f64>, JsValue> {
    cranks(id, driveline, wheel_w, road_speed_m_s, engine_speed_rpm).map_err(|f| JsValue::from_str(&f.json()))
}

/// The same for Rust callers.
///
/// # Errors
/// [`Fault`] as above.
pub fn cranks(
    id: &str,
    driveline: &str,
    wheel_w: &[f64],
    road_speed_m_s: &[f64],
    engine_speed_rpm: &[f64],
) -> Result<Vec<f64>, Fault> {
    let model = plug_ins().loss(id).ok_or_else(|| unknown(id))?;
    let question: DrivelineQuestion = read(driveline)?;
    let elements = question.elements()?;
    let driveline = question.driveline(&elements)?;
    same_length(&[wheel_w, road_speed_m_s, engine_speed_rpm])?;
    let one = |((wheel, v), n): ((&f64, &f64), &f64)| {
        let at = DrivePoint::new(RoadSpeed::from_metres_per_second(*v), EngineSpeed::from_rpm(*n));
        model
            .to_crank(PowerAtWheels::from_watts(*wheel), &at, &driveline)
            .map_or(f64::NAN, |c| c.power.watts())
    };
    Ok(wheel_w.iter().zip(road_speed_m_s).zip(engine_speed_rpm).map(one).collect())
}

fn unknown(id: &str) -> Fault {
    Fault::new("id", id, "is not in the catalogue", "ask for the catalogue")
}

fn same_length(columns: &[&[f64]]) -> Result<(), Fault> {
    let lengths: Vec<usize> = columns.iter().map(|c| c.len()).collect();
    if lengths.windows(2).all(|w| w.first() == w.last()) {
        Ok(())
    } else {
        Err(Fault::new(
            "columns",
            &format!("{lengths:?}"),
            "the columns differ in length",
            "give one value a row",
        ))
    }
}

/// What a loss model may know of the driveline, SI units; a pair is value and standard uncertainty.
#[derive(Clone, Debug, Default)]
struct DrivelineQuestion {
    coast_down: Option<[f64; 3]>,
    load_share: Option<(f64, f64)>,
    constant_drag_w: Option<(f64, f64)>,
    rotating_mass_kg: Option<f64>,
    acceleration_m_s2: Option<f64>,
    gearbox: Option<String>,
    direct_gear: Option<bool>,
    angle_drive: bool,
    max_input_torque_nm: Option<f64>,
    driven_wheels: Option<u8>,
    elements: Vec<String>,
}
fairpull_tree::fields!(DrivelineQuestion default {
    coast_down, load_share, constant_drag_w, rotating_mass_kg, acceleration_m_s2, gearbox, direct_gear, angle_drive,
    max_input_torque_nm, driven_wheels, elements,
});

impl DrivelineQuestion {
    fn elements(&self) -> Result<Vec<Element>, Fault> {
        self.elements.iter().map(|e| element(e)).collect()
    }

    fn driveline<'a>(&self, elements: &'a [Element]) -> Result<Driveline<'a>, Fault> {
        let mut d = Driveline::unknown();
        d.coast_down = self.coast_down.map(|[a, b, c]| CoastDownForce { a, b, c, covariance: [[0.0; 3]; 3] });
        d.load_share = self.load_share;
        d.constant_drag = self.constant_drag_w;
        d.accelerating = self.rotating_mass_kg.zip(self.acceleration_m_s2);
        d.gearbox = self.gearbox.as_deref().map(gearbox).transpose()?;
        d.direct_gear = self.direct_gear;
        d.angle_drive = self.angle_drive;
        d.max_input_torque = self.max_input_torque_nm;
        d.driven_wheels = self.driven_wheels;
        d.elements = elements;
        Ok(d)
    }
}

fn gearbox(word: &str) -> Result<Gearbox, Fault> {
    match word {
        "manual" | "dual-clutch" | "automated-manual" => Ok(Gearbox::ToothClutch),
        "planetary" => Ok(Gearbox::Planetary),
        "converter" => Ok(Gearbox::Converter),
        _ => Err(Fault::new(
            "gearbox",
            word,
            "is not known",
            "write manual, dual-clutch, automated-manual, planetary or converter",
        )),
    }
}

fn element(word: &str) -> Result<Element, Fault> {
    Ok(match word {
        "spur-gear" => Element::SpurGear,
        "helical-gear" => Element::HelicalGear,
        "bevel-gear" => Element::BevelGear,
        "roller-chain" => Element::RollerChain,
        "silent-chain" => Element::SilentChain,
        "cogged-belt" => Element::CoggedBelt,
        "vee-belt" => Element::VeeBelt,
        "hydraulic-coupling" => Element::HydraulicCoupling,
        "hydraulic-converter" => Element::HydraulicConverter,
        _ => {
            return Err(Fault::new(
                "elements",
                word,
                "is not known",
                "write spur-gear, helical-gear, bevel-gear, roller-chain, silent-chain, cogged-belt, vee-belt, \
                 hydraulic-coupling or hydraulic-converter",
            ));
        }
    })
}
