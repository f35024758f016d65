//! Text of a job file to [`Job`]: every complaint names line, column, field, value and mend.

use core::ops::Range;

use fairpull_core::{ChargeCooling, Charging, Engine, Rating};
use fairpull_recordings::{Column, Layout, Role};
use fairpull_units::{Dimension, Unit, parse_as, units_of};

use crate::job::{self, Grid, Job, Knock, Known, LogJob, Loss, Rig, RigKind, StateJob, Vehicle};
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
        let raw: RawJob = toml::from_str(text).map_err(|e| {
            let span = e.span().unwrap_or(0..0);
            site.error("job file", span, e.message().replace('\n', "; "), "")
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

    fn between(
        &self,
        field: &str,
        span: Range<usize>,
        shown: &str,
        value: f64,
        low: f64,
        high: f64,
        unit: &str,
    ) -> Result<f64, JobError> {
        if value >= low && value <= high {
            return Ok(value);
        }
        let problem = format!("{shown} is outside {low} to {high} {unit}");
        Err(self.site.error(field, span, problem, "check the value and its unit"))
    }

    fn positive(
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

    fn number(&self, field: &str, n: &Number, low: f64, high: f64, unit: &str) -> Result<f64, JobError> {
        self.between(field, n.span(), &n.get_ref().to_string(), *n.get_ref(), low, high, unit)
    }

    fn share(&self, field: &str, text: &Text, high: f64) -> Result<f64, JobError> {
        let value = self.quantity(field, text, Dimension::Ratio)?;
        self.between(field, text.span(), text.get_ref(), value, 0.0, high, "(as a ratio; write e.g. 2%)")
    }

    fn word<T>(
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

    fn known(&mut self, field: &str, value: f64, u: Option<&Text>, default: f64) -> Result<Known, JobError> {
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
        let power_units = self.units("units.power", &raw.units.power, Dimension::Power, &["kW", "PS"])?;
        let torque_units =
            self.units("units.torque", &raw.units.torque, Dimension::Torque, &["N·m", "lbf·ft"])?;
        let rating = match &raw.basis.rating {
            Some(t) => self.word("basis.rating", t, job::rating, "net, gross")?,
            None => Rating::Net,
        };
        let mut stated = |field: &str, t: &Option<Text>, d: Dimension, default: f64, words: &str| match t {
            Some(t) => self
                .quantity(field, t, d)
                .and_then(|v| self.between(field, t.span(), t.get_ref(), v, 0.0, default * 100.0, "SI")),
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
            Some(k) => {
                let pair = |v: &Option<Number>, u: &Option<Number>, default: f64| {
                    v.as_ref().map(|v| (*v.get_ref(), u.as_ref().map_or(default, |u| *u.get_ref())))
                };
                Some(Knock {
                    requirement: pair(&k.requirement, &k.requirement_u, 2.0),
                    k: pair(&k.k, &k.k_u, 0.3),
                })
            }
            None => None,
        };
        let mut states = Vec::new();
        for s in &raw.state {
            let mut logs = Vec::new();
            for l in &s.log {
                let reading = l.air.as_ref().or(s.air.as_ref()).ok_or_else(|| {
                    self.site.error(
                        "state.air",
                        l.file.span(),
                        format!("no air is given for {:?}", l.file.get_ref()),
                        "add air = { pressure = \"985hPa\", temperature = \"24C\", humidity = \"55%\" } to the state or the log",
                    )
                })?;
                logs.push(LogJob {
                    file: l.file.get_ref().clone(),
                    span: l.file.span(),
                    start_minute: match &l.start {
                        Some(t) => Some(crate::job_air::minutes(&self.site, t)?),
                        None => None,
                    },
                    air: air(&self, reading)?,
                    skip: l.skip.clone(),
                });
            }
            if logs.is_empty() {
                return Err(self.site.error(
                    "state.log",
                    s.name.span(),
                    "the state has no log",
                    "add [[state.log]] with file = \"…\"",
                ));
            }
            if states.iter().any(|o: &StateJob| o.name == *s.name.get_ref()) {
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

    fn vehicle(&mut self, raw: &RawJob) -> Result<Vehicle, JobError> {
        let v = &raw.vehicle;
        let ignition = self.word("vehicle.ignition", &v.ignition, job::ignition, "spark, compression")?;
        let charging =
            self.word("vehicle.charging", &v.charging, job::charging, "none, supercharged, turbocharged")?;
        let cooling = match &v.charge_cooling {
            Some(t) => self.word("vehicle.charge_cooling", t, job::cooling, "none, air, liquid")?,
            None => ChargeCooling::None,
        };
        let mut engine = Engine::new(ignition, charging).cooled(cooling).compensated(v.ambient_compensated);
        if v.ambient_compensated && charging == Charging::None {
            return Err(self.site.error(
                "vehicle.ambient_compensated",
                v.charging.span(),
                "a naturally aspirated engine cannot hold its charge against the ambient",
                "leave ambient_compensated out, or correct the charging",
            ));
        }
        if let Some(q) = &v.fuel_per_cycle {
            engine.fuel_per_cycle =
                Some(self.number("vehicle.fuel_per_cycle", q, 1.0, 500.0, "mg/(l·cycle)")?);
        }
        if let Some(r) = &v.charge_pressure_ratio {
            engine.charge_pressure_ratio =
                Some(self.number("vehicle.charge_pressure_ratio", r, 1.0, 10.0, "")?);
        }
        if let Some(e) = &v.mechanical_efficiency {
            engine.mechanical_efficiency = Some(self.share("vehicle.mechanical_efficiency", e, 1.0)?);
        }
        let optional = |field: &str, t: &Option<Text>, d, low, high, unit: &str| match t {
            Some(t) => self.positive(field, t, d, low, high, unit).map(Some),
            None => Ok(None),
        };
        let displacement =
            optional("vehicle.displacement", &v.displacement, Dimension::Volume, 2e-5, 0.05, "m³")?;
        let bore = optional("vehicle.bore", &v.bore, Dimension::Length, 0.02, 0.3, "m")?;
        let stroke = optional("vehicle.stroke", &v.stroke, Dimension::Length, 0.02, 0.4, "m")?;
        let gearbox_inertia =
            optional("vehicle.gearbox_inertia", &v.gearbox_inertia, Dimension::Inertia, 0.0, 5.0, "kg·m²")?;
        let wheel_inertia =
            optional("vehicle.wheel_inertia", &v.wheel_inertia, Dimension::Inertia, 0.0, 50.0, "kg·m²")?;
        let compression_ratio = match &v.compression_ratio {
            Some(n) => Some(self.number("vehicle.compression_ratio", n, 4.0, 30.0, "")?),
            None => None,
        };
        let driven_wheels = match &v.driven_wheels {
            Some(n) if matches!(n.get_ref(), 1..=8) => *n.get_ref(),
            Some(n) => {
                return Err(self.site.error(
                    "vehicle.driven_wheels",
                    n.span(),
                    format!("{} wheels cannot be", n.get_ref()),
                    "write 2 or 4",
                ));
            }
            None => 2,
        };
        let tyre = self.positive("vehicle.tyre_radius", &v.tyre_radius, Dimension::Length, 0.1, 1.0, "m")?;
        let inertia = self.positive(
            "vehicle.engine_inertia",
            &v.engine_inertia,
            Dimension::Inertia,
            0.001,
            10.0,
            "kg·m²",
        )?;
        let gearbox = match &v.gearbox {
            Some(t) => Some(self.word(
                "vehicle.gearbox",
                t,
                job::gearbox,
                "manual, dual-clutch, automated-manual, planetary, converter",
            )?),
            None => None,
        };
        if wheel_inertia.is_none() {
            self.assumed.push("vehicle.wheel_inertia: assumed 1 kg·m² a wheel (the job states none)".into());
        }
        Ok(Vehicle {
            name: v.name.clone(),
            engine,
            displacement,
            cylinders: v.cylinders,
            bore,
            stroke,
            compression_ratio,
            driven_wheels,
            tyre_radius: self.known("vehicle.tyre_radius", tyre, v.tyre_radius_u.as_ref(), 0.01)?,
            ratio: self.number("vehicle.ratio", &v.ratio, 0.5, 60.0, "engine turns a wheel turn")?,
            engine_inertia: self.known(
                "vehicle.engine_inertia",
                inertia,
                v.engine_inertia_u.as_ref(),
                0.1,
            )?,
            gearbox_inertia: gearbox_inertia.unwrap_or(0.0),
            wheel_inertia: wheel_inertia.unwrap_or(1.0),
            gearbox,
        })
    }

    fn rig(&mut self, raw: &RawJob, vehicle: &Vehicle) -> Result<Rig, JobError> {
        let r = &raw.rig;
        let kind = self.word("rig.kind", &r.kind, job::rig_kind, "inertia-roller, braked-roller, hub")?;
        let inertia = match (&r.roller_inertia, kind) {
            (Some(t), _) => self.positive("rig.roller_inertia", t, Dimension::Inertia, 0.0, 1e5, "kg·m²")?,
            (None, RigKind::Hub) => 0.0,
            (None, _) => {
                return Err(self.site.error(
                    "rig.roller_inertia",
                    r.kind.span(),
                    "the inertia of the roller set is missing",
                    "add roller_inertia = \"…kg.m2\"",
                ));
            }
        };
        let radius = match (&r.roller_radius, kind) {
            (Some(t), _) => self.positive("rig.roller_radius", t, Dimension::Length, 0.05, 3.0, "m")?,
            (None, RigKind::Hub) => vehicle.tyre_radius.value,
            (None, _) => {
                return Err(self.site.error(
                    "rig.roller_radius",
                    r.kind.span(),
                    "the radius of the roller is missing",
                    "add roller_radius = \"…mm\"",
                ));
            }
        };
        let a = match &r.parasitic_a {
            Some(t) => self.quantity("rig.parasitic_a", t, Dimension::Force)?,
            None => 0.0,
        };
        let b = r.parasitic_b.as_ref().map_or(0.0, |n| *n.get_ref());
        let c = r.parasitic_c.as_ref().map_or(0.0, |n| *n.get_ref());
        let inertia = self.known("rig.roller_inertia", inertia, r.roller_inertia_u.as_ref(), 0.01)?;
        let radius = self.known("rig.roller_radius", radius, r.roller_radius_u.as_ref(), 0.001)?;
        let force = if kind == RigKind::InertiaRoller {
            0.0
        } else {
            self.known("rig.force", 1.0, r.force_u.as_ref(), 0.01)?.relative
        };
        Ok(Rig { name: r.name.clone(), kind, inertia, radius, parasitic: [a, b, c], force })
    }

    fn loss(&self, raw: &RawJob) -> Result<Loss, JobError> {
        let l = &raw.loss;
        let share = match &l.load_share {
            Some(t) => {
                let u = match &l.load_share_u {
                    Some(u) => self.share("loss.load_share_u", u, 0.2)?,
                    None => 0.01,
                };
                Some((self.share("loss.load_share", t, 0.3)?, u))
            }
            None => None,
        };
        let constant = match &l.constant_drag {
            Some(t) => {
                let u = match &l.constant_drag_u {
                    Some(u) => self.quantity("loss.constant_drag_u", u, Dimension::Power)?,
                    None => 0.0,
                };
                Some((self.positive("loss.constant_drag", t, Dimension::Power, 0.0, 2e5, "W")?, u))
            }
            None => None,
        };
        let max_input_torque = match &l.max_input_torque {
            Some(t) => Some(self.positive("loss.max_input_torque", t, Dimension::Torque, 1.0, 1e5, "N·m")?),
            None => None,
        };
        let mut elements = Vec::new();
        for t in &l.elements {
            elements.push(self.word(
                "loss.elements",
                t,
                job::element,
                "spur-gear, helical-gear, bevel-gear, roller-chain, silent-chain, cogged-belt, vee-belt, hydraulic-coupling, hydraulic-converter",
            )?);
        }
        let model = l.model.as_ref().map_or_else(|| "coast-down".into(), |t| t.get_ref().clone());
        Ok(Loss { model, share, constant, max_input_torque, direct_gear: l.direct_gear, elements })
    }

    fn grid(&self, raw: &RawJob) -> Result<Grid, JobError> {
        let g = &raw.grid;
        let rpm = |field: &str, t: &Option<Text>, low: f64, high: f64| match t {
            Some(t) => {
                let v = self.quantity(field, t, Dimension::RotationalSpeed)? * 30.0 / core::f64::consts::PI;
                self.between(field, t.span(), t.get_ref(), v, low, high, "1/min").map(Some)
            }
            None => Ok(None),
        };
        Ok(Grid {
            from: rpm("grid.from", &g.from, 200.0, 25_000.0)?,
            to: rpm("grid.to", &g.to, 200.0, 25_000.0)?,
            step: rpm("grid.step", &g.step, 10.0, 1000.0)?.unwrap_or(100.0),
            smoothing: rpm("grid.smoothing", &g.smoothing, 20.0, 3000.0)?,
            seed: g.seed.unwrap_or(1),
        })
    }

    fn layout(&self, raw: &RawJob, kind: RigKind) -> Result<Layout, JobError> {
        let mut columns = Vec::new();
        for (key, c) in &raw.columns {
            let role = Role::from_id(key.get_ref()).ok_or_else(|| {
                let all: Vec<&str> = Role::ALL.iter().map(|r| r.id()).collect();
                self.site.error(
                    "columns",
                    key.span(),
                    format!("{:?} is not a role a column can have", key.get_ref()),
                    format!("roles are: {}", all.join(", ")),
                )
            })?;
            let mut column = Column::new(role, &c.name);
            column.unit.clone_from(&c.unit);
            column.reference = c.reference;
            columns.push(column);
        }
        let has = |r: Role| columns.iter().any(|c| c.role == r);
        let needs = |ok: bool, what: &str, mend: &str| {
            if ok {
                Ok(())
            } else {
                Err(self.site.error("columns", 0..0, format!("no column is mapped to {what}"), mend))
            }
        };
        needs(
            has(Role::Time) || raw.format.sample_rate_hz.is_some(),
            "time",
            "add [columns.time] with the name of the column, or format.sample_rate_hz; `fairpull columns LOG` proposes a mapping",
        )?;
        match kind {
            RigKind::Hub => {
                needs(has(Role::HubTorque), "hub_torque", "add [columns.hub_torque]")?;
                needs(
                    has(Role::HubRotation) || has(Role::RollerSpeed),
                    "hub_rotation",
                    "add [columns.hub_rotation]",
                )?;
            }
            RigKind::BrakedRoller | RigKind::InertiaRoller => {
                needs(
                    has(Role::RollerSpeed) || has(Role::RollerRotation),
                    "roller_speed or roller_rotation",
                    "add [columns.roller_speed]",
                )?;
                if kind == RigKind::BrakedRoller {
                    needs(
                        has(Role::BrakeForce),
                        "brake_force",
                        "add [columns.brake_force], or use kind = \"inertia-roller\"",
                    )?;
                }
            }
        }
        let f = &raw.format;
        Ok(Layout {
            separator: f.separator.as_ref().map(|s| *s.get_ref()),
            decimal: f.decimal.as_ref().map(|s| *s.get_ref()),
            encoding: f.encoding.as_ref().map(|s| *s.get_ref()),
            sample_rate_hz: f.sample_rate_hz,
            columns,
        })
    }

    fn units(
        &self,
        field: &str,
        words: &[Text],
        dimension: Dimension,
        default: &[&'static str],
    ) -> Result<Vec<&'static str>, JobError> {
        if words.is_empty() {
            return Ok(default.to_vec());
        }
        words
            .iter()
            .map(|t| {
                Unit::find_in(t.get_ref(), dimension).map(Unit::symbol).ok_or_else(|| {
                    let all: Vec<&str> = units_of(dimension).map(Unit::symbol).collect();
                    self.site.error(
                        field,
                        t.span(),
                        format!("{:?} is not a unit of this quantity", t.get_ref()),
                        format!("units are: {}", all.join(", ")),
                    )
                })
            })
            .collect()
    }
}
