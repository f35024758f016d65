//! The job file as it is written: text with spans, nothing interpreted yet.

use fairpull_tree::{Entries, Placed, fields};

pub(crate) type Text = Placed<String>;
pub(crate) type Number = Placed<f64>;

#[derive(Default)]
pub(crate) struct RawJob {
    pub schema: Text,
    pub title: Option<String>,
    pub note: Option<String>,
    pub vehicle: RawVehicle,
    pub rig: RawRig,
    pub loss: RawLoss,
    pub basis: RawBasis,
    pub units: RawUnits,
    pub air: RawAirUncertainty,
    pub grid: RawGrid,
    pub format: RawFormat,
    pub columns: Entries<RawColumn>,
    pub fuels: Vec<Text>,
    pub knock: Option<RawKnock>,
    pub state: Vec<RawState>,
}
fields!(RawJob {
    schema, title, note, vehicle, rig, loss = default, basis, units = default, air = default, grid = default,
    format = default, columns, fuels = default, knock, state,
});

#[derive(Default)]
pub(crate) struct RawVehicle {
    pub name: String,
    pub ignition: Text,
    pub charging: Text,
    pub charge_cooling: Option<Text>,
    pub ambient_compensated: bool,
    pub displacement: Option<Text>,
    pub cylinders: Option<Placed<u32>>,
    pub bore: Option<Text>,
    pub stroke: Option<Text>,
    pub compression_ratio: Option<Number>,
    pub driven_wheels: Option<Placed<u8>>,
    pub tyre_radius: Text,
    pub tyre_radius_u: Option<Text>,
    pub ratio: Number,
    pub engine_inertia: Text,
    pub engine_inertia_u: Option<Text>,
    pub gearbox_inertia: Option<Text>,
    pub wheel_inertia: Option<Text>,
    pub gearbox: Option<Text>,
    pub fuel_per_cycle: Option<Number>,
    pub charge_pressure_ratio: Option<Number>,
    pub mechanical_efficiency: Option<Text>,
}
fields!(RawVehicle {
    name, ignition, charging, charge_cooling, ambient_compensated = default, displacement, cylinders, bore,
    stroke, compression_ratio, driven_wheels, tyre_radius, tyre_radius_u, ratio, engine_inertia,
    engine_inertia_u, gearbox_inertia, wheel_inertia, gearbox, fuel_per_cycle, charge_pressure_ratio,
    mechanical_efficiency,
});

#[derive(Default)]
pub(crate) struct RawRig {
    pub name: Option<String>,
    pub kind: Text,
    pub roller_inertia: Option<Text>,
    pub roller_inertia_u: Option<Text>,
    pub roller_radius: Option<Text>,
    pub roller_radius_u: Option<Text>,
    pub parasitic_a: Option<Text>,
    pub parasitic_b: Option<Number>,
    pub parasitic_c: Option<Number>,
    pub force_u: Option<Text>,
}
fields!(RawRig {
    name,
    kind,
    roller_inertia,
    roller_inertia_u,
    roller_radius,
    roller_radius_u,
    parasitic_a,
    parasitic_b,
    parasitic_c,
    force_u
});

#[derive(Default)]
pub(crate) struct RawLoss {
    pub model: Option<Text>,
    pub load_share: Option<Text>,
    pub load_share_u: Option<Text>,
    pub constant_drag: Option<Text>,
    pub constant_drag_u: Option<Text>,
    pub max_input_torque: Option<Text>,
    pub direct_gear: Option<bool>,
    pub elements: Vec<Text>,
}
fields!(RawLoss default {
    model, load_share, load_share_u, constant_drag, constant_drag_u, max_input_torque, direct_gear, elements,
});

#[derive(Default)]
pub(crate) struct RawBasis {
    pub standard: Text,
    pub also: Vec<Text>,
    pub rating: Option<Text>,
}
fields!(RawBasis { standard, also = default, rating });

#[derive(Default)]
pub(crate) struct RawUnits {
    pub power: Option<Placed<Vec<Text>>>,
    pub torque: Option<Placed<Vec<Text>>>,
}
fields!(RawUnits default { power, torque });

#[derive(Default)]
pub(crate) struct RawAirUncertainty {
    pub pressure_u: Option<Text>,
    pub temperature_u: Option<Text>,
    pub humidity_u: Option<Text>,
}
fields!(RawAirUncertainty default { pressure_u, temperature_u, humidity_u });

#[derive(Default)]
pub(crate) struct RawGrid {
    pub from: Option<Text>,
    pub to: Option<Text>,
    pub step: Option<Text>,
    pub smoothing: Option<Text>,
    pub seed: Option<u64>,
}
fields!(RawGrid default { from, to, step, smoothing, seed });

#[derive(Default)]
pub(crate) struct RawFormat {
    pub separator: Option<Placed<fairpull_recordings::Separator>>,
    pub decimal: Option<Placed<fairpull_recordings::Decimal>>,
    pub encoding: Option<Placed<fairpull_recordings::Encoding>>,
    pub sample_rate_hz: Option<Number>,
}
fields!(RawFormat default { separator, decimal, encoding, sample_rate_hz });

#[derive(Default)]
pub(crate) struct RawColumn {
    pub name: String,
    pub unit: Option<String>,
    pub reference: Option<fairpull_recordings::PressureReference>,
}
fields!(RawColumn { name, unit, reference });

#[derive(Default)]
pub(crate) struct RawKnock {
    pub requirement: Option<Number>,
    pub requirement_u: Option<Number>,
    pub k: Option<Number>,
    pub k_u: Option<Number>,
}
fields!(RawKnock { requirement, requirement_u, k, k_u });

#[derive(Default)]
pub(crate) struct RawState {
    pub name: Text,
    pub fuel: Option<Text>,
    pub air: Option<Placed<RawAir>>,
    pub log: Vec<RawLog>,
}
fields!(RawState { name, fuel, air, log = default });

#[derive(Default)]
pub(crate) struct RawLog {
    pub file: Text,
    pub start: Option<Text>,
    pub air: Option<Placed<RawAir>>,
    pub skip: Option<String>,
}
fields!(RawLog { file, start, air, skip });

#[derive(Default)]
pub(crate) struct RawAir {
    pub pressure: Option<Text>,
    pub qnh: Option<Text>,
    pub elevation: Option<Text>,
    pub temperature: Text,
    pub humidity: Option<Text>,
    pub dew_point: Option<Text>,
    pub wet_bulb: Option<Text>,
}
fields!(RawAir { pressure, qnh, elevation, temperature, humidity, dew_point, wet_bulb });

#[cfg(test)]
mod tests {
    /// A message sends the reader to docs/job.md for every field: each must stand there by its whole name.
    #[test]
    fn every_field_stands_in_the_documentation() {
        let page = include_str!("../../../docs/job.md");
        let tables = [
            ("RawJob", ""),
            ("RawVehicle", "vehicle."),
            ("RawRig", "rig."),
            ("RawLoss", "loss."),
            ("RawBasis", "basis."),
            ("RawUnits", "units."),
            ("RawAirUncertainty", "air."),
            ("RawGrid", "grid."),
            ("RawFormat", "format."),
            ("RawColumn", "columns.ROLE."),
            ("RawKnock", "knock."),
            ("RawState", "state."),
            ("RawLog", "state.log."),
            ("RawAir", "state.air."),
        ];
        let source = include_str!("job_raw.rs").split("mod tests").next().unwrap_or_default();
        let mut fields = 0;
        for part in source.split("pub(crate) struct ").skip(1) {
            let name = part.split([' ', '{']).next().unwrap_or_default();
            let table = tables.iter().find(|(n, _)| *n == name).map(|(_, table)| *table);
            let table = table.unwrap_or_else(|| panic!("{name} has no table here"));
            let body = part.split("\n}").next().unwrap_or_default();
            for field in body.lines().filter_map(|l| l.trim().strip_prefix("pub ")?.split(':').next()) {
                fields += 1;
                // tables in tables are named by their fields
                let inner =
                    tables.iter().any(|(_, t)| t.trim_end_matches('.').trim_end_matches(".ROLE") == field);
                if !(inner && table.is_empty()) && field != "log" {
                    assert!(page.contains(&format!("`{table}{field}`")), "{table}{field}");
                }
            }
        }
        assert!(fields > 80, "{fields}");
    }
}
