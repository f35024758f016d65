//! Moist air from three columns, and `vapour_pressure`.

use std::sync::Arc;

use arrow::array::{ArrayRef, Float64Builder};
use arrow::datatypes::DataType;
use datafusion_common::Result;
use fairpull::core::{AbsolutePressure, Air, Temperature};
use fairpull::humid::{HumidError, Method, Moisture, air};

use crate::arguments::{Literals, Numbers, Parameter, number};
use crate::scalar::{Batch, Calculation};

/// Station pressure, temperature and relative humidity.
pub(crate) struct AirColumns<'a> {
    pressure: Numbers<'a>,
    temperature: Numbers<'a>,
    humidity: Numbers<'a>,
}

impl<'a> AirColumns<'a> {
    /// The three arguments that begin at a position.
    pub(crate) fn new(batch: &Batch<'a>, first: usize) -> Result<Self> {
        Ok(Self {
            pressure: batch.numbers(first)?,
            temperature: batch.numbers(first + 1)?,
            humidity: batch.numbers(first + 2)?,
        })
    }

    /// kPa, °C and % of a row, when none is NULL.
    pub(crate) fn at(&self, row: usize) -> Option<[f64; 3]> {
        Some([self.pressure.at(row)?, self.temperature.at(row)?, self.humidity.at(row)?])
    }
}

/// Checked air from station pressure, kPa, temperature, °C, and relative humidity, %.
pub(crate) fn moist([pressure, temperature, humidity]: [f64; 3]) -> Result<Air, HumidError> {
    air(
        AbsolutePressure::from_kilopascals(pressure),
        Temperature::from_celsius(temperature),
        Moisture::percent(humidity),
        &Method::default(),
    )
}

/// A station pressure that leaves room for every vapour pressure of the permitted temperatures, kPa (one atmosphere).
const ROOMY: f64 = 101.325;

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) struct VapourPressure;

impl Calculation for VapourPressure {
    const NAME: &'static str = "vapour_pressure";
    const PARAMETERS: &'static [Parameter] = &[number("temperature", "°C"), number("humidity", "%")];
    const COUNTS: &'static [usize] = &[2];

    fn returns() -> DataType {
        DataType::Float64
    }

    fn plan(_: &Literals<'_>) -> Result<(), String> {
        Ok(())
    }

    fn run(batch: &Batch<'_>) -> Result<ArrayRef> {
        let (temperature, humidity) = (batch.numbers(0)?, batch.numbers(1)?);
        let mut out = Float64Builder::with_capacity(batch.len());
        batch.each(
            |i| {
                let (Some(t), Some(h)) = (temperature.at(i), humidity.at(i)) else { return Ok(None) };
                let air = moist([ROOMY, t, h]).map_err(|e| e.to_string())?;
                Ok(Some(air.vapour().kilopascals()))
            },
            |x| out.append_option(x),
        )?;
        Ok(Arc::new(out.finish()))
    }
}
