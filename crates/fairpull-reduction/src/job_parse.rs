//! Text of a job file to [`Job`]: every complaint names line, column, field, value and mend.

use core::ops::Range;
use std::collections::{BTreeMap, BTreeSet};

use fairpull_core::Rating;
use fairpull_units::{Dimension, parse_as};

use crate::job::{self, AirReading, Job, Known, LogJob, StateJob};
use crate::job_air::air;
use crate::job_error::{JobError, Site};
use crate::job_raw::{Number, RawJob, Text};

impl Job {
    /// Parses a job file. `file` is the name to put into messages.
    ///
    /// # Errors
    /// [`JobError`] for the first thing that is wrong.
    pub fn parse(text: &str, file: &str) -> Result<Self, JobError> {
        let site = Site { file, text };
        let raw: RawJob = fairpull_tree::toml(text).and_then(fairpull_tree::Node::read).map_err(|e| {
            let span = e.span.clone().unwrap_or(0..0);
            let mend = match e.message.as_str() {
                "missing field `schema`" => format!("a job begins with schema = {:?}", job::JOB_SCHEMA),
                m if m.starts_with("missing field") => "docs/job.md lists every field".into(),
                _ => String::new(),
            };
            let field = fairpull_tree::toml(text).map_or_else(|_| String::new(), |t| e.field(&t));
            let field = if field.is_empty() { "job file" } else { &field };
            site.error(field, span, e.message.replace('\n', "; "), mend)
        })?;
        if raw.schema.get_ref() != job::JOB_SCHEMA {
            let found = format!("{:?} is not a schema this program knows", raw.schema.get_ref());
            return Err(site.error(
                "schema",
                raw.schema.span(),
                found,
                format!("write schema = {:?}", job::JOB_SCHEMA),
            ));
        }
        Reader { site, assumed: Vec::new() }.job(raw)
    }
}

pub(crate) struct Reader<'a> {
    pub site: Site<'a>,
    pub assumed: Vec<String>,
}

impl Reader<'_> {
    pub(crate) fn quantity(&self, field: &str, text: &Text, dimension: Dimension) -> Result<f64, JobError> {
        parse_as(text.get_ref(), dimension)
            .map(|r| r.si)
            .map_err(|e| self.site.error(field, text.span(), e.to_string(), ""))
    }

    pub(crate) fn between(
        &self,
        field: &str,
        span: Range<usize>,
        shown: &str,
        value: f64,
        low: f64,
        high: f64,
        unit: &str,
    ) -> Result<f64, JobError> {
        // a value at an end may be beyond it by the rounding of its unit
        if value >= low - 1e-12 * low.abs() && value <= high + 1e-12 * high.abs() {
            return Ok(value);
        }
        let problem = format!("{shown} is outside {low} to {high} {unit}");
        Err(self.site.error(field, span, problem.trim_end(), "check the value and its unit"))
    }

    pub(crate) fn positive(
        &self,
        field: &str,
        text: &Text,
        dimension: Dimension,
        low: f64,
        high: f64,
        unit: &str,
    ) -> Result<f64, JobError> {
        let value = self.quantity(field, text, dimension)?;
        self.between(field, text.span(), text.get_ref(), value, low, high, unit)
    }

    pub(crate) fn number(
        &self,
        field: &str,
        n: &Number,
        low: f64,
        high: f64,
        unit: &str,
    ) -> Result<f64, JobError> {
        let x = *n.get_ref();
        let shown =
            if (1e-6..1e15).contains(&x.abs()) || x == 0.0 { x.to_string() } else { format!("{x:e}") };
        self.between(field, n.span(), &shown, x, low, high, unit)
    }

    pub(crate) fn share(&self, field: &str, text: &Text, high: f64) -> Result<f64, JobError> {
        let value = self.quantity(field, text, Dimension::Ratio)?;
        self.between(field, text.span(), text.get_ref(), value, 0.0, high, "(as a ratio; write e.g. 2%)")
    }

    pub(crate) fn word<T>(
        &self,
        field: &str,
        text: &Text,
        read: impl Fn(&str) -> Option<T>,
        choices: &str,
    ) -> Result<T, JobError> {
        read(text.get_ref()).ok_or_else(|| {
            self.site.error(
                field,
                text.span(),
                format!("{:?} is not known", text.get_ref()),
                format!("write one of {choices}"),
            )
        })
    }

    pub(crate) fn known(
        &mut self,
        field: &str,
        value: f64,
        u: Option<&Text>,
        default: f64,
    ) -> Result<Known, JobError> {
        let relative = match u {
            Some(t) => self.share(&format!("{field}_u"), t, 0.5)?,
            None => {
                self.assumed.push(format!(
                    "{field}: standard uncertainty assumed {} % (the job states none)",
                    default * 100.0
                ));
                default
            }
        };
        Ok(Known { value, relative })
    }

    fn job(mut self, raw: RawJob) -> Result<Job, JobError> {
        let vehicle = self.vehicle(&raw)?;
        let rig = self.rig(&raw, &vehicle)?;
        let loss = self.loss(&raw)?;
        let layout = self.layout(&raw, rig.kind)?;
        let power_units =
            self.units("units.power", raw.units.power.as_ref(), Dimension::Power, &["kW", "PS"])?;
        let torque_units =
            self.units("units.torque", raw.units.torque.as_ref(), Dimension::Torque, &["N·m", "lbf·ft"])?;
        let rating = match &raw.basis.rating {
            Some(t) => self.word("basis.rating", t, job::rating, "net, gross")?,
            None => Rating::Net,
        };
        let mut stated = |field: &str, t: &Option<Text>, d: Dimension, default: f64, words: &str| match t {
            Some(t) => {
                let unit = match d {
                    Dimension::Pressure => "Pa",
                    Dimension::Ratio => "as a ratio",
                    _ => "K",
                };
                let v = self.quantity(field, t, d)?;
                self.between(field, t.span(), t.get_ref(), v, 0.0, default * 100.0, unit)
            }
            None => {
                self.assumed
                    .push(format!("{field}: standard uncertainty assumed {words} (the job states none)"));
                Ok(default)
            }
        };
        let pressure_u = stated("air.pressure_u", &raw.air.pressure_u, Dimension::Pressure, 100.0, "1 hPa")?;
        let temperature_u = stated(
            "air.temperature_u",
            &raw.air.temperature_u,
            Dimension::TemperatureDifference,
            1.0,
            "1 K",
        )?;
        let humidity_u = stated("air.humidity_u", &raw.air.humidity_u, Dimension::Ratio, 0.05, "5 %")?;
        let grid = self.grid(&raw)?;
        let knock = match &raw.knock {
            Some(k) => Some(self.knock(k)?),
            None => None,
        };
        let mut states: Vec<StateJob> = Vec::new();
        let mut files = BTreeSet::new();
        let mut starts: BTreeMap<u64, &str> = BTreeMap::new();
        for s in &raw.state {
            let mut logs = Vec::new();
            let mut of_state: Option<AirReading> = None;
            for l in &s.log {
                let reading = l.air.as_ref().or(s.air.as_ref()).ok_or_else(|| {
                    self.site.error(
                        "state.air",
                        l.file.span(),
                        format!("no air is given for {:?}", l.file.get_ref()),
                        "add air = { pressure = \"985hPa\", temperature = \"24C\", humidity = \"55%\" } to the state or the log",
                    )
                })?;
                if !files.insert(l.file.get_ref()) {
                    return Err(self.site.error(
                        "state.log.file",
                        l.file.span(),
                        format!("{:?} stands twice: the same pull is no repeat of itself", l.file.get_ref()),
                        "name each log once",
                    ));
                }
                let start_minute = match &l.start {
                    Some(t) => Some(crate::job_air::minutes(&self.site, t)?),
                    None => None,
                };
                if let (Some(minute), Some(t), None) = (start_minute, &l.start, &l.skip)
                    && let Some(other) = starts.insert(minute.to_bits(), l.file.get_ref())
                {
                    return Err(self.site.error(
                        "log.start",
                        t.span(),
                        format!(
                            "{:?} is the start of {other:?} too, and a car drives one pull at a time",
                            t.get_ref()
                        ),
                        "write when each log began, to the second where they are short, or leave start out of all of them",
                    ));
                }
                let own = l.air.is_some();
                let air = match of_state.filter(|_| !own) {
                    Some(same) => same,
                    None => air(&self, reading)?,
                };
                if !own {
                    of_state = Some(air);
                }
                logs.push(LogJob {
                    file: l.file.get_ref().clone(),
                    span: l.file.span(),
                    start_minute,
                    air,
                    skip: l.skip.clone(),
                });
            }
            if s.name.get_ref().trim().is_empty() {
                return Err(self.site.error(
                    "state.name",
                    s.name.span(),
                    "the state has an empty name",
                    "write what was done to the car, e.g. name = \"before\"",
                ));
            }
            if logs.is_empty() {
                return Err(self.site.error(
                    "state.log",
                    s.name.span(),
                    "the state has no log",
                    "add [[state.log]] with file = \"…\"",
                ));
            }
            if states.iter().any(|o| o.name == *s.name.get_ref()) {
                return Err(self.site.error(
                    "state.name",
                    s.name.span(),
                    format!("{:?} stands twice", s.name.get_ref()),
                    "give each state its own name",
                ));
            }
            states.push(StateJob {
                name: s.name.get_ref().clone(),
                fuel: s.fuel.as_ref().map(|f| f.get_ref().clone()),
                logs,
            });
        }
        if states.is_empty() {
            return Err(self.site.error(
                "state",
                0..0,
                "the job has no state",
                "add [[state]] with a name and its logs",
            ));
        }
        Ok(Job {
            file: self.site.file.into(),
            title: raw.title.unwrap_or_else(|| "Power and torque".into()),
            note: raw.note,
            vehicle,
            rig,
            loss,
            standard: raw.basis.standard.get_ref().clone(),
            rating,
            also: raw.basis.also.iter().map(|t| t.get_ref().clone()).collect(),
            power_units,
            torque_units,
            pressure_u,
            temperature_u,
            humidity_u,
            grid,
            layout,
            fuels: raw.fuels.iter().map(|t| t.get_ref().clone()).collect(),
            knock,
            states,
            assumed: self.assumed,
        })
    }
}
