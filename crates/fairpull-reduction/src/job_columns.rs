//! Columns, grid and units for reading of a job.

use fairpull_recordings::{Column, Layout, Role};
use fairpull_tree::Placed;
use fairpull_units::{Dimension, Unit, units_of};

use crate::job::{Grid, Knock, RigKind};
use crate::job_error::JobError;
use crate::job_parse::Reader;
use crate::job_raw::{Number, RawJob, RawKnock, Text};

impl Reader<'_> {
    pub(crate) fn grid(&self, raw: &RawJob) -> Result<Grid, JobError> {
        let g = &raw.grid;
        let rpm = |field: &str, t: &Option<Text>, low: f64, high: f64| match t {
            Some(t) => {
                let v = self.quantity(field, t, Dimension::RotationalSpeed)? * 30.0 / core::f64::consts::PI;
                self.between(field, t.span(), t.get_ref(), v, low, high, "1/min").map(Some)
            }
            None => Ok(None),
        };
        let (from, to) =
            (rpm("grid.from", &g.from, 200.0, 25_000.0)?, rpm("grid.to", &g.to, 200.0, 25_000.0)?);
        if let (Some(a), Some(b), Some(t)) = (from, to, &g.to)
            && a >= b
        {
            let problem = format!("the grid would run from {a:.0} down to {b:.0} 1/min");
            return Err(self.site.error("grid.to", t.span(), problem, "exchange from and to"));
        }
        Ok(Grid {
            from,
            to,
            step: rpm("grid.step", &g.step, 10.0, 1000.0)?.unwrap_or(100.0),
            smoothing: rpm("grid.smoothing", &g.smoothing, 20.0, 3000.0)?,
            seed: g.seed.unwrap_or(1),
        })
    }

    pub(crate) fn layout(&self, raw: &RawJob, kind: RigKind) -> Result<Layout, JobError> {
        let mut columns = Vec::new();
        for (key, c) in &raw.columns.0 {
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
        let sample_rate_hz = match &f.sample_rate_hz {
            Some(n) if has(Role::Time) => {
                return Err(self.site.error(
                    "format.sample_rate_hz",
                    n.span(),
                    "a rate is stated, and a column is mapped to time",
                    "keep one of the two: the rate is for a log without a column of time",
                ));
            }
            Some(n) => Some(self.number("format.sample_rate_hz", n, 0.001, 1e6, "Hz")?),
            None => None,
        };
        Ok(Layout {
            separator: f.separator.as_ref().map(|s| *s.get_ref()),
            decimal: f.decimal.as_ref().map(|s| *s.get_ref()),
            encoding: f.encoding.as_ref().map(|s| *s.get_ref()),
            sample_rate_hz,
            columns,
        })
    }

    pub(crate) fn units(
        &self,
        field: &str,
        words: Option<&Placed<Vec<Text>>>,
        dimension: Dimension,
        default: &[&'static str],
    ) -> Result<Vec<&'static str>, JobError> {
        let Some(words) = words else { return Ok(default.to_vec()) };
        if words.get_ref().is_empty() {
            return Err(self.site.error(
                field,
                words.span(),
                "the list of units is empty",
                format!("name one or more, or leave the line out for {}", default.join(" and ")),
            ));
        }
        words
            .get_ref()
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

    /// The ranges are those of the knock models, so that none of them refuses what is accepted here.
    pub(crate) fn knock(&self, k: &RawKnock) -> Result<Knock, JobError> {
        let pair =
            |field: &str, v: &Option<Number>, u: &Option<Number>, range: [f64; 3], default, unit: &str| {
                let [low, high, most] = range;
                let uncertainty = match u {
                    Some(u) => self.number(&format!("{field}_u"), u, 0.0, most, unit)?,
                    None => default,
                };
                match (v, u) {
                    (Some(v), _) => Ok(Some((self.number(field, v, low, high, unit)?, uncertainty))),
                    (None, Some(u)) => Err(self.site.error(
                        &format!("{field}_u"),
                        u.span(),
                        "the uncertainty of a value that is not stated",
                        format!("add {} = …, or take the line out", field.trim_start_matches("knock.")),
                    )),
                    (None, None) => Ok(None),
                }
            };
        let octane = "octane numbers";
        Ok(Knock {
            requirement: pair(
                "knock.requirement",
                &k.requirement,
                &k.requirement_u,
                [0.0, 150.0, 50.0],
                2.0,
                octane,
            )?,
            k: pair("knock.k", &k.k, &k.k_u, [-3.0, 1.0, 3.0], 0.3, "")?,
        })
    }
}
