//! Question: what is this figure on another basis?

use fairpull_core::{AbsolutePressure, Catalogue};
use fairpull_restate::{
    BasisRow, Figure, Humidity, Knowledge, KnownAir, RestateError, Restated, Restater, Site, Span, Target,
    Treatment,
};
use fairpull_units::{Dimension, Unit, parse};
use serde::Serialize;

use crate::AskError;
use crate::air::{AirQuestion, si};
use crate::engine::EngineQuestion;

/// Schema of a restated figure.
pub const RESTATE_SCHEMA: &str = "fairpull-restate-1";

/// A figure, what is known beside it, and the basis wanted.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct RestateQuestion {
    /// `400kW`, or a whole figure in the one-line notation.
    pub figure: String,
    /// Standard it is corrected to, or `observed`.
    pub from: Option<String>,
    /// Its site: `crank`, `wheel`, `hub`.
    pub site: Option<String>,
    /// Its engine speed, e.g. `6200rpm`.
    pub engine_speed: Option<String>,
    /// Standard wanted, or `observed`.
    pub to: Option<String>,
    /// Site wanted; `crank` when left out.
    pub to_site: Option<String>,
    /// Loss model to use.
    pub loss: Option<String>,
    /// Air at the test, as far as it is known.
    pub air: AirQuestion,
    /// Month of the test, 1 to 12.
    pub month: Option<u8>,
    /// Engine, as far as it is known.
    pub engine: Option<EngineQuestion>,
    /// Load share, e.g. `2%`, for loss models that use it.
    pub load_share: Option<String>,
    /// Constant drag, e.g. `9.5kW`, for loss models that use it.
    pub constant_drag: Option<String>,
}
fairpull_tree::fields!(RestateQuestion default {
    figure, from, site, engine_speed, to, to_site, loss, air, month, engine, load_share, constant_drag,
});

impl RestateQuestion {
    /// The figure of the question.
    ///
    /// # Errors
    /// [`AskError`] naming the field.
    pub fn parsed(&self) -> Result<Figure, AskError> {
        let text = self.figure.trim();
        let mut figure = if text.contains([';', '@']) {
            text.parse::<Figure>().map_err(|e| AskError::new("figure", text, e.to_string(), ""))?
        } else {
            let r = parse(text).map_err(|e| AskError::unreadable("figure", text, &e))?;
            Figure::new(r.value, r.unit).ok_or_else(|| {
                AskError::new(
                    "figure",
                    text,
                    format!("{} is a unit of {}", r.unit.symbol(), r.unit.dimension()),
                    "give a power or a torque, e.g. 400kW",
                )
            })?
        };
        if let Some(from) = &self.from {
            figure.treatment = Some(treatment(from));
        }
        if let Some(s) = &self.site {
            figure.site = Some(site("site", s)?);
        }
        if let Some(n) = &self.engine_speed {
            figure.engine_speed_rpm =
                Some(si("engine_speed", n, Dimension::RotationalSpeed)? * 30.0 / core::f64::consts::PI);
        }
        if figure.engine_speed_rpm.is_some_and(|n| !(10.0..=30_000.0).contains(&n)) {
            let given = self.engine_speed.as_deref().unwrap_or(text);
            return Err(AskError::new("engine_speed", given, "is outside 10 to 30000 1/min", ""));
        }
        let known = self.known_air()?;
        if known != KnownAir::UNKNOWN {
            figure.air = known;
        }
        Ok(figure)
    }

    /// Whatever of the air was given, complete or not.
    fn known_air(&self) -> Result<KnownAir, AskError> {
        let a = &self.air;
        let mut known = KnownAir::UNKNOWN;
        let station = match (&a.pressure, &a.qnh) {
            (Some(p), _) => Some(
                fairpull_units::station_pressure(p).map_err(|e| AskError::unreadable("pressure", p, &e))?,
            ),
            (None, Some(q)) if a.elevation.is_some() => {
                let mut whole = a.clone();
                whole.temperature.get_or_insert_with(|| "15C".into());
                if whole.humidity.is_none() && whole.dew_point.is_none() && whole.wet_bulb.is_none() {
                    whole.humidity = Some("0%".into());
                }
                let air = whole.air().map_err(|mut e| {
                    if e.value.is_empty() {
                        e.value.clone_from(q);
                    }
                    e
                })?;
                Some(air.station())
            }
            _ => None,
        };
        known.pressure_kpa = station.map(|p: AbsolutePressure| Span::exact(p.kilopascals()));
        if let Some(t) = &a.temperature {
            known.temperature_c = Some(Span::exact(si("temperature", t, Dimension::Temperature)? - 273.15));
        }
        if let Some(h) = &a.humidity {
            known.humidity = Some(Humidity::Relative(Span::exact(si("humidity", h, Dimension::Ratio)?)));
        }
        if a.dew_point.is_some() || a.wet_bulb.is_some() {
            // these need the whole air; then it is known exactly
            let air = a.air()?;
            known.humidity = Some(Humidity::Vapour(Span::exact(air.vapour().kilopascals())));
        }
        Ok(known)
    }

    fn with_knowledge<T>(
        &self,
        use_it: impl FnOnce(&Knowledge<'_>) -> Result<T, RestateError>,
    ) -> Result<T, AskError> {
        let mut k = Knowledge::new();
        if let Some(e) = &self.engine {
            k.engine = Some(e.engine()?);
        }
        k.month = self.month;
        if let Some(m) = self.month.filter(|m| !(1..=12).contains(m)) {
            return Err(AskError::new("month", &m.to_string(), "is outside 1 to 12", ""));
        }
        k.loss.clone_from(&self.loss);
        if let (Some(h), None) = (&self.air.elevation, &self.air.qnh) {
            k.elevation_m = Some(Span::exact(si("elevation", h, Dimension::Length)?));
        }
        if let Some(s) = &self.load_share {
            let share = crate::engine::within(
                "load_share",
                s,
                si("load_share", s, Dimension::Ratio)?,
                0.0,
                0.3,
                "as a ratio; write e.g. 2%",
            )?;
            k.driveline.load_share = Some((share, 0.005));
        }
        if let Some(d) = &self.constant_drag {
            let w = si("constant_drag", d, Dimension::Power)?;
            // as a job file has it
            let w = crate::engine::within("constant_drag", d, w, 0.0, 2e5, "W; write e.g. 9.5kW")?;
            k.driveline.constant_drag = Some((w, 0.1 * w));
        }
        use_it(&k).map_err(|e| self.refused(&e))
    }

    /// The field that an error belongs to.
    fn refused(&self, e: &RestateError) -> AskError {
        let (field, value) = match e {
            RestateError::UnknownStandard { id, .. } if self.from.as_ref() == Some(id) => ("from", id),
            RestateError::UnknownStandard { id, .. } if self.to.as_ref() == Some(id) => ("to", id),
            RestateError::UnknownLoss { id, .. } => ("loss", id),
            _ => ("figure", &self.figure),
        };
        AskError::new(field, value, e.to_string(), "")
    }

    /// The figure on the basis wanted.
    ///
    /// # Errors
    /// [`AskError`] with the reason, naming what is missing.
    pub fn answer(&self, catalogue: &Catalogue<'_>) -> Result<Restated, AskError> {
        self.answer_with(&Restater::new(*catalogue))
    }

    /// As [`Self::answer`], with what a [`Restater`] has kept from earlier questions.
    ///
    /// # Errors
    /// As [`Self::answer`].
    pub fn answer_with(&self, restater: &Restater<'_>) -> Result<Restated, AskError> {
        let figure = self.parsed()?;
        let to = self.to.as_deref().ok_or_else(|| {
            AskError::new("to", "", "no standard is asked for", "give an id of the catalogue, or observed")
        })?;
        let target = Target {
            site: self.to_site.as_deref().map_or(Ok(Site::Crank), |s| site("to_site", s))?,
            treatment: treatment(to),
        };
        self.with_knowledge(|k| restater.restate(&figure, &target, k))
    }

    /// The figure on every basis.
    ///
    /// # Errors
    /// [`AskError`] when the figure itself cannot be read.
    pub fn all(&self, catalogue: &Catalogue<'_>) -> Result<Vec<BasisRow>, AskError> {
        self.all_with(&Restater::new(*catalogue))
    }

    /// As [`Self::all`], with what a [`Restater`] has kept from earlier questions.
    ///
    /// # Errors
    /// As [`Self::all`].
    pub fn all_with(&self, restater: &Restater<'_>) -> Result<Vec<BasisRow>, AskError> {
        let figure = self.parsed()?;
        self.with_knowledge(|k| restater.restate_all(&figure, k))
    }
}

fn treatment(word: &str) -> Treatment {
    if word == "observed" { Treatment::Observed } else { Treatment::Corrected(word.into()) }
}

fn site(field: &str, word: &str) -> Result<Site, AskError> {
    Site::ALL
        .into_iter()
        .find(|s| s.word() == word)
        .ok_or_else(|| AskError::new(field, word, "is not a site", "write crank, wheel or hub"))
}

/// A figure in a second unit for reading, e.g. PS beside kW.
#[must_use]
pub fn in_unit(value: f64, from: &str, to: &str) -> Option<f64> {
    let (a, b) = (Unit::find(from)?, Unit::find(to)?);
    fairpull_units::convert(value, a, b).ok()
}
