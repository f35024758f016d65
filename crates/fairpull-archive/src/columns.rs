//! The columns of the table: one list makes the row, the file and its page in the documentation.

use serde::{Deserialize, Serialize};

/// A column as a reader of the table needs it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Column {
    /// Name.
    pub name: &'static str,
    /// Type of its values.
    pub holds: Holds,
    /// True when a row may have no value.
    pub optional: bool,
    /// Unit; empty where there is none.
    pub unit: &'static str,
    /// What it is.
    pub about: &'static str,
}

/// Type of a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holds {
    /// UTF-8 text.
    Text,
    /// Double precision.
    Number,
    /// 32-bit whole number.
    Count,
    /// True or false.
    Flag,
    /// Local date and time, milliseconds.
    Time,
}

/// Local date and time, milliseconds since 1970-01-01T00:00.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Time(pub i64);

trait Cell {
    const HOLDS: Holds;
    const OPTIONAL: bool = false;
}

impl Cell for String {
    const HOLDS: Holds = Holds::Text;
}
impl Cell for f64 {
    const HOLDS: Holds = Holds::Number;
}
impl Cell for i32 {
    const HOLDS: Holds = Holds::Count;
}
impl Cell for bool {
    const HOLDS: Holds = Holds::Flag;
}
impl Cell for Time {
    const HOLDS: Holds = Holds::Time;
}
impl<T: Cell> Cell for Option<T> {
    const HOLDS: Holds = T::HOLDS;
    const OPTIONAL: bool = true;
}

macro_rules! columns {
    ($($name:ident: $kind:ty, $unit:literal, $about:literal;)*) => {
        /// One state of one job; the fields are the columns of the table.
        #[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
        pub struct Row {
            $(#[doc = $about] pub $name: $kind,)*
        }

        /// Every column, in the order of the table.
        pub const COLUMNS: &[Column] = &[
            $(Column {
                name: stringify!($name),
                holds: <$kind as Cell>::HOLDS,
                optional: <$kind as Cell>::OPTIONAL,
                unit: $unit,
                about: $about,
            },)*
        ];

        #[cfg(feature = "parquet")]
        impl Row {
            /// The values in the order of [`COLUMNS`].
            pub(crate) fn values(&self) -> [crate::value::Value<'_>; COLUMNS.len()] {
                [$(crate::value::Valued::value(&self.$name),)*]
            }
        }
    };
}

columns! {
    job: String, "", "job file, as a path below the folder that was named";
    title: String, "", "title of the job";
    car: String, "", "name of the vehicle";
    ignition: String, "", "spark or compression";
    charging: String, "", "none, supercharged or turbocharged";
    displacement_cm3: Option<f64>, "cm³", "displacement, where the job states it";
    rig_kind: String, "", "inertia-roller, braked-roller or hub";
    rig: Option<String>, "", "name of the rig, where the job states it";
    state: String, "", "name of the state";
    state_number: i32, "", "place of the state in the job, from 1";
    fuel: Option<String>, "", "fuel as the job states it";
    started: Option<Time>, "local time", "start of the first log of the state that is used, where the job states it";
    site: String, "", "where on the driveline the figures hold: crank";
    standard: String, "", "id of the correction standard";
    rating: String, "", "net or gross";
    loss_model: String, "", "how wheel became crank";
    pulls: i32, "", "pulls of the state";
    peak_power_kw: f64, "kW", "corrected peak power";
    peak_power_u_kw: f64, "kW", "its combined standard uncertainty: root of the sum of squares of the budget";
    peak_power_lo95_kw: f64, "kW", "lower end of its 95 % interval";
    peak_power_hi95_kw: f64, "kW", "upper end of its 95 % interval";
    peak_power_rpm: f64, "1/min", "engine speed of the peak power";
    peak_power_at_edge: bool, "", "true where the peak sits at the end of the range and the real one may lie beyond it";
    peak_torque_nm: f64, "N·m", "corrected peak torque";
    peak_torque_lo95_nm: f64, "N·m", "lower end of its 95 % interval";
    peak_torque_hi95_nm: f64, "N·m", "upper end of its 95 % interval";
    peak_torque_rpm: f64, "1/min", "engine speed of the peak torque";
    peak_torque_at_edge: bool, "", "as for the peak power";
    repeatability_percent: f64, "%", "standard deviation of the level from pull to pull";
    factor: f64, "", "correction factor, mean of the pulls";
    factor_min: f64, "", "smallest factor of a pull";
    factor_max: f64, "", "largest factor of a pull";
    station_pressure_kpa: f64, "kPa", "station pressure, mean of the pulls";
    temperature_c: f64, "°C", "intake air temperature, mean of the pulls";
    humidity_percent: f64, "%", "relative humidity, mean of the pulls";
    vapour_pressure_kpa: f64, "kPa", "vapour pressure, mean of the pulls";
    loss_at_peak_kw: f64, "kW", "power lost in the driveline at the peak, mean of the pulls";
    repairs: i32, "", "repairs of the recordings, all counts together";
    repair_text: Option<String>, "", "each repair with its count and log";
    flags: i32, "", "remarks on pulls: outlying, no coast-down of its own, a channel that stands still";
    flag_text: Option<String>, "", "each remark with its pull";
    notices: i32, "", "remarks on the whole job, those on the factors among them";
    notice_text: Option<String>, "", "each remark on the whole job";
    compared_with: Option<String>, "", "state this one is compared with: the first; none in the row of the first";
    gain_from_rpm: Option<f64>, "1/min", "lower end of the band of the mean gain";
    gain_to_rpm: Option<f64>, "1/min", "upper end of that band";
    mean_gain_percent: Option<f64>, "%", "mean gain over the band";
    mean_gain_lo95_percent: Option<f64>, "%", "lower end of its 95 % interval";
    mean_gain_hi95_percent: Option<f64>, "%", "upper end of its 95 % interval";
    mean_gain_kw: Option<f64>, "kW", "mean gain over the band";
    mean_gain_lo95_kw: Option<f64>, "kW", "lower end of its 95 % interval";
    mean_gain_hi95_kw: Option<f64>, "kW", "upper end of its 95 % interval";
    peak_gain_percent: Option<f64>, "%", "gain of the peak power";
    peak_gain_lo95_percent: Option<f64>, "%", "lower end of its 95 % interval";
    peak_gain_hi95_percent: Option<f64>, "%", "upper end of its 95 % interval";
    smallest_detectable_percent: Option<f64>, "%", "smallest mean gain that the job would detect in 80 % of repetitions";
    verdict: Option<String>, "", "gain, loss or no-detectable-change";
    program: String, "", "program and version";
    fingerprint: String, "", "SHA-256 of everything that went in, as in done.json";
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/archive.md");
    const MARKS: (&str, &str) = ("<!-- columns -->\n", "<!-- end of columns -->\n");

    fn words(c: &Column) -> String {
        let holds = match c.holds {
            Holds::Text => "text",
            Holds::Number => "double",
            Holds::Count => "int32",
            Holds::Flag => "boolean",
            Holds::Time => "timestamp",
        };
        let optional = if c.optional { ", or null" } else { "" };
        format!("| `{}` | {holds}{optional} | {} | {} |\n", c.name, c.unit, c.about)
    }

    /// `FAIRPULL_WRITE_PAGES=1` writes the list into the page.
    #[test]
    fn the_page_lists_the_columns() {
        let list = String::from("| column | type | unit | what |\n|---|---|---|---|\n");
        let list = COLUMNS.iter().fold(list, |all, c| all + &words(c));
        let page = std::fs::read_to_string(PAGE).unwrap();
        let (before, rest) = page.split_once(MARKS.0).unwrap();
        let (there, after) = rest.split_once(MARKS.1).unwrap();
        if std::env::var_os("FAIRPULL_WRITE_PAGES").is_some_and(|v| v == "1") {
            let text = [before, MARKS.0, &list, MARKS.1, after].concat();
            std::fs::write(PAGE, text).unwrap();
        } else {
            assert_eq!(there, list, "write it with FAIRPULL_WRITE_PAGES=1 cargo test -p fairpull-archive");
        }
    }
}
