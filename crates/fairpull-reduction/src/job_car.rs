//! Car, rig and driveline of a job.

use fairpull_core::{ChargeCooling, Charging, Engine};
use fairpull_units::Dimension;

use crate::job::{self, Loss, Rig, RigKind, Vehicle};
use crate::job_error::JobError;
use crate::job_parse::Reader;
use crate::job_raw::{RawJob, Text};

impl Reader<'_> {
    pub(crate) fn vehicle(&mut self, raw: &RawJob) -> Result<Vehicle, JobError> {
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
            cylinders: match &v.cylinders {
                Some(n) if (1..=24).contains(n.get_ref()) => Some(*n.get_ref()),
                Some(n) => {
                    return Err(self.site.error(
                        "vehicle.cylinders",
                        n.span(),
                        format!("{} cylinders cannot be", n.get_ref()),
                        "write 1 to 24",
                    ));
                }
                None => None,
            },
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

    pub(crate) fn rig(&mut self, raw: &RawJob, vehicle: &Vehicle) -> Result<Rig, JobError> {
        let r = &raw.rig;
        let kind = self.word("rig.kind", &r.kind, job::rig_kind, "inertia-roller, braked-roller, hub")?;
        if kind == RigKind::Hub {
            no_roller(self, "rig.roller_radius", &r.roller_radius)?;
            no_roller(self, "rig.roller_radius_u", &r.roller_radius_u)?;
        }
        let inertia = match (&r.roller_inertia, kind) {
            (Some(t), RigKind::Hub) => {
                self.positive("rig.roller_inertia", t, Dimension::Inertia, 0.0, 1e5, "kg·m²")?
            }
            (Some(t), _) => self.positive("rig.roller_inertia", t, Dimension::Inertia, 0.1, 1e5, "kg·m²")?,
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
            Some(t) => self.positive("rig.parasitic_a", t, Dimension::Force, 0.0, 2000.0, "N")?,
            None => 0.0,
        };
        let coefficient = |field: &str, n: &Option<crate::job_raw::Number>, most: f64, unit: &str| match n {
            Some(n) => self.number(field, n, -most, most, unit),
            None => Ok(0.0),
        };
        let b = coefficient("rig.parasitic_b", &r.parasitic_b, 50.0, "N per m/s")?;
        let c = coefficient("rig.parasitic_c", &r.parasitic_c, 2.0, "N per (m/s)²")?;
        let inertia = match (kind, &r.roller_inertia, &r.roller_inertia_u) {
            (RigKind::Hub, None, None) => job::Known { value: inertia, relative: 0.0 },
            _ => self.known("rig.roller_inertia", inertia, r.roller_inertia_u.as_ref(), 0.01)?,
        };
        let radius = match kind {
            // nothing is assumed of a roller that is not there
            RigKind::Hub => job::Known { value: radius, relative: 0.0 },
            _ => self.known("rig.roller_radius", radius, r.roller_radius_u.as_ref(), 0.001)?,
        };
        let force = if kind == RigKind::InertiaRoller {
            0.0
        } else {
            self.known("rig.force", 1.0, r.force_u.as_ref(), 0.01)?.relative
        };
        Ok(Rig { name: r.name.clone(), kind, inertia, radius, parasitic: [a, b, c], force })
    }

    pub(crate) fn loss(&self, raw: &RawJob) -> Result<Loss, JobError> {
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
}

/// The wheels are off on a hub rig: a radius there would be taken for what the car travels in a turn.
fn no_roller(reader: &Reader<'_>, field: &str, stated: &Option<Text>) -> Result<(), JobError> {
    let Some(t) = stated else { return Ok(()) };
    Err(reader.site.error(
        field,
        t.span(),
        format!("{:?} is stated, but a hub rig has no roller", t.get_ref()),
        "take the line out; the travel of a turn is taken from vehicle.tyre_radius",
    ))
}
