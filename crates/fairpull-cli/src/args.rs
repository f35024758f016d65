//! What can be written behind `fairpull`.

use std::path::PathBuf;

use clap::{Parser, Subcommand};
use fairpull::{AirQuestion, EngineQuestion};

/// Engine power figures on one footing: recordings to curves with honest intervals, any figure on any basis.
///
/// Quantities are written <number><unit>: 530PS, 985hPa, 34C, 55%, 101.6mm; a decimal comma is accepted where it is
/// unambiguous. Results go to standard output, diagnostics to standard error.
/// Exit status: 0 done, 1 the input was refused, 2 wrong usage.
#[derive(Parser)]
#[command(name = "fairpull", version, max_term_width = 100)]
pub struct Args {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// The commands.
#[derive(Subcommand)]
pub enum Command {
    /// A quantity in another unit: fairpull convert 530PS kW
    Convert(Convert),
    /// Moist air from barometer, thermometer and hygrometer readings
    Air(Air),
    /// The correction factor of every standard for an air and an engine
    Factors(Factors),
    /// A figure on another basis, with an interval for what is not known
    Restate(Restate),
    /// Which column of a log is what: a first guess to check, ready for the job file
    Columns(Columns),
    /// The main job: recordings in, a report on a stated basis with honest intervals out
    Reduce(Reduce),
    /// Fuel grades, octane numbers and blends: properties with their sources
    Fuel(crate::fuel::Fuel),
    /// Knock margin of each fuel with a plain verdict; never replaces a knock measurement
    Knock(crate::knock::Knock),
    /// What the power costs the engine: back pressure, charge cooling, flow, mean pressures, pipe diameters
    Stress(Box<crate::stress_args::Stress>),
    /// The road against the rig: predicted times, power from a road log, road load from coast-downs
    Road(crate::road::Road),
    /// A published claim against everything that can contradict it
    Vet(Box<crate::vet::Vet>),
    /// Every plug-in, or the whole card of one
    Catalogue(Catalogue),
    /// A completion script for a shell
    Completions {
        /// Shell.
        shell: clap_complete::Shell,
    },
    /// The manual page
    Man,
}

/// `fairpull convert`.
#[derive(clap::Args)]
pub struct Convert {
    /// Quantity, e.g. 530PS.
    #[arg(allow_hyphen_values = true)]
    pub quantity: String,
    /// Unit, e.g. kW.
    pub unit: String,
    /// JSON instead of text.
    #[arg(long)]
    pub json: bool,
}

/// Readings of the air.
#[derive(clap::Args, Clone, Default)]
pub struct AirArgs {
    /// Station pressure, e.g. 985hPa: what a barometer at the place shows.
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub pressure: Option<String>,
    /// Altimeter setting (sea level) instead; needs --elevation.
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub qnh: Option<String>,
    /// Elevation above sea level, e.g. 430m.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub elevation: Option<String>,
    /// Temperature of the air entering the intake, e.g. 24C.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub temperature: Option<String>,
    /// Relative humidity, e.g. 55%.
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    pub humidity: Option<String>,
    /// Dew point instead of the humidity.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub dew_point: Option<String>,
    /// Wet bulb instead of the humidity.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub wet_bulb: Option<String>,
}

impl AirArgs {
    /// The question these readings make.
    pub fn question(&self) -> AirQuestion {
        AirQuestion {
            pressure: self.pressure.clone(),
            qnh: self.qnh.clone(),
            elevation: self.elevation.clone(),
            temperature: self.temperature.clone(),
            humidity: self.humidity.clone(),
            dew_point: self.dew_point.clone(),
            wet_bulb: self.wet_bulb.clone(),
        }
    }
}

/// Kind of engine.
#[derive(clap::Args, Clone, Default)]
pub struct EngineArgs {
    /// spark or compression [default: spark].
    #[arg(long, value_name = "KIND")]
    pub ignition: Option<String>,
    /// none, supercharged or turbocharged [default: none].
    #[arg(long, value_name = "KIND")]
    pub charging: Option<String>,
    /// none, air or liquid [default: none].
    #[arg(long, value_name = "KIND")]
    pub charge_cooling: Option<String>,
    /// Fuel per working cycle and litre of swept volume, e.g. 60mg/L (compression ignition).
    #[arg(long, value_name = "FUEL", allow_hyphen_values = true)]
    pub fuel_per_stroke: Option<String>,
    /// Absolute pressure ratio of the charger, outlet over inlet.
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    pub charge_pressure_ratio: Option<f64>,
    /// Brake over indicated power, e.g. 85%, for texts that correct indicated power.
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    pub mechanical_efficiency: Option<String>,
    /// The control holds the charge against ambient pressure and temperature.
    #[arg(long)]
    pub ambient_compensated: bool,
}

impl EngineArgs {
    /// The question this engine makes.
    pub fn question(&self) -> EngineQuestion {
        EngineQuestion {
            ignition: self.ignition.clone(),
            charging: self.charging.clone(),
            charge_cooling: self.charge_cooling.clone(),
            fuel_per_stroke: self.fuel_per_stroke.clone(),
            charge_pressure_ratio: self.charge_pressure_ratio,
            mechanical_efficiency: self.mechanical_efficiency.clone(),
            ambient_compensated: self.ambient_compensated,
        }
    }

    /// Whether anything was said about the engine.
    pub fn is_given(&self) -> bool {
        self.question() != EngineQuestion::default()
    }
}

/// `fairpull air`.
#[derive(clap::Args)]
pub struct Air {
    /// Readings.
    #[command(flatten)]
    pub air: AirArgs,
    /// JSON instead of text.
    #[arg(long)]
    pub json: bool,
}

/// `fairpull factors`.
#[derive(clap::Args)]
pub struct Factors {
    /// Readings.
    #[command(flatten)]
    pub air: AirArgs,
    /// Engine.
    #[command(flatten)]
    pub engine: EngineArgs,
    /// A standard written as TOML or JSON, added to the catalogue; may stand several times.
    #[arg(long, value_name = "FILE")]
    pub declared: Vec<PathBuf>,
    /// JSON instead of text.
    #[arg(long)]
    pub json: bool,
}

/// `fairpull restate`.
#[derive(clap::Args)]
pub struct Restate {
    /// Figure: 400kW, or a whole figure in the one-line notation.
    #[arg(allow_hyphen_values = true)]
    pub figure: String,
    /// Standard it is corrected to, or observed.
    #[arg(long, value_name = "ID")]
    pub from: Option<String>,
    /// Standard wanted, or observed.
    #[arg(long, value_name = "ID", required_unless_present = "all")]
    pub to: Option<String>,
    /// Site of the figure: crank, wheel or hub.
    #[arg(long, value_name = "SITE")]
    pub site: Option<String>,
    /// Site wanted [default: crank].
    #[arg(long, value_name = "SITE")]
    pub to_site: Option<String>,
    /// Engine speed of the figure, e.g. 6200rpm.
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub engine_speed: Option<String>,
    /// Loss model where the site changes.
    #[arg(long, value_name = "ID")]
    pub loss: Option<String>,
    /// Load share of the driveline, e.g. 2%.
    #[arg(long, value_name = "RATIO", allow_hyphen_values = true)]
    pub load_share: Option<String>,
    /// Constant drag of the driveline, e.g. 9.5kW.
    #[arg(long, value_name = "POWER", allow_hyphen_values = true)]
    pub constant_drag: Option<String>,
    /// Month of the test, 1 to 12: narrows the temperature.
    #[arg(long, value_name = "MONTH", allow_hyphen_values = true, value_parser = month)]
    pub month: Option<u8>,
    /// One figure on every basis.
    #[arg(long, conflicts_with_all = ["to", "to_site"])]
    pub all: bool,
    /// Air at the test, as far as it is known.
    #[command(flatten)]
    pub air: AirArgs,
    /// Engine, as far as it is known.
    #[command(flatten)]
    pub engine: EngineArgs,
    /// A standard written as TOML or JSON, added to the catalogue; may stand several times.
    #[arg(long, value_name = "FILE")]
    pub declared: Vec<PathBuf>,
    /// JSON instead of text.
    #[arg(long)]
    pub json: bool,
}

fn month(text: &str) -> Result<u8, String> {
    let known = text.parse().ok().filter(|m| (1..=12).contains(m));
    known.ok_or_else(|| "expected a month, 1 to 12".into())
}

/// `fairpull columns`.
#[derive(clap::Args)]
pub struct Columns {
    /// Log file.
    pub log: PathBuf,
    /// JSON instead of text.
    #[arg(long)]
    pub json: bool,
}

/// `fairpull reduce`.
///
/// One job file gives one report. Several, or folders of them, make an archive: every job.toml and *.job.toml below a
/// folder is reduced, on all cores, into --out DIR: a folder of results for each job, one table of all states
/// (table.parquet), and the jobs that were refused (failures.jsonl). Run again after a stop or a change, the same
/// command does only what is not done. Exit status: 1 when any job was refused.
#[derive(clap::Args)]
pub struct Reduce {
    /// Job files, or folders of them.
    #[arg(required = true, value_name = "JOB")]
    pub jobs: Vec<PathBuf>,
    /// Folder for the results [default for one job: report beside the job file].
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Replace the files of an earlier report; in an archive, reduce finished jobs again.
    #[arg(long)]
    pub force: bool,
    /// Write no file, only the summary (or, with --json, the result).
    #[arg(long)]
    pub dry_run: bool,
    /// A standard written as TOML or JSON, added to the catalogue; may stand several times.
    #[arg(long, value_name = "FILE")]
    pub declared: Vec<PathBuf>,
    /// Language of report.html and of the summary: en or de; JSON and CSV stay the same.
    #[arg(long, value_name = "TAG", default_value = "en")]
    pub language: fairpull::report::Language,
    /// Jobs of an archive at the same time [default: one a core].
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=512))]
    pub threads: Option<u16>,
    /// The whole result as JSON on standard output instead of the summary; of an archive, one line a job.
    #[arg(long)]
    pub json: bool,
}

/// `fairpull catalogue`.
#[derive(clap::Args)]
pub struct Catalogue {
    /// Id of one plug-in: its whole card.
    pub id: Option<String>,
    /// A standard written as TOML or JSON, added to the catalogue; may stand several times.
    #[arg(long, value_name = "FILE")]
    pub declared: Vec<PathBuf>,
    /// JSON instead of text.
    #[arg(long)]
    pub json: bool,
}
