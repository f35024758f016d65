//! `fairpull vet`.

use std::path::PathBuf;

use fairpull::VetQuestion;
use fairpull::claims::Vetting;
use fairpull::report::escape::clean_line;
use fairpull::units::Quoted;

use crate::catalogue::with_declared;
use crate::fail::Fail;
use crate::{files, out};

/// `fairpull vet`.
#[derive(clap::Args)]
pub struct Vet {
    /// The claim; the fields below replace its fields.
    pub claim: Option<PathBuf>,
    /// Any field of a claim, e.g. --set engine.power=221kW; may stand several times.
    #[arg(long, value_name = "FIELD=VALUE")]
    pub set: Vec<String>,
    /// Power, e.g. 221kW (engine.power).
    #[arg(long, value_name = "POWER", allow_hyphen_values = true)]
    pub power: Option<String>,
    /// Engine speed of the power (engine.power_speed).
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub power_speed: Option<String>,
    /// Torque (engine.torque).
    #[arg(long, value_name = "TORQUE", allow_hyphen_values = true)]
    pub torque: Option<String>,
    /// Engine speed of the torque (engine.torque_speed).
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub torque_speed: Option<String>,
    /// Displacement (engine.displacement).
    #[arg(long, value_name = "VOLUME", allow_hyphen_values = true)]
    pub displacement: Option<String>,
    /// Stroke (engine.stroke).
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true)]
    pub stroke: Option<String>,
    /// none, supercharged or turbocharged (engine.charging).
    #[arg(long, value_name = "KIND")]
    pub charging: Option<String>,
    /// crank, wheel or hub (engine.site).
    #[arg(long, value_name = "SITE")]
    pub site: Option<String>,
    /// Standard of the figure, or observed (engine.standard).
    #[arg(long, value_name = "ID")]
    pub standard: Option<String>,
    /// Mass as driven (car.mass).
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    pub mass: Option<String>,
    /// A standard written as TOML or JSON, added to the catalogue; may stand several times.
    #[arg(long, value_name = "FILE")]
    pub declared: Vec<PathBuf>,
    /// Write the vetting as a printable page to this file as well.
    #[arg(long, value_name = "FILE")]
    pub html: Option<PathBuf>,
    /// Replace that file if it is there.
    #[arg(long, requires = "html")]
    pub force: bool,
    /// Language of that page: en or de.
    #[arg(long, value_name = "TAG", default_value = "en", requires = "html")]
    pub language: fairpull::report::Language,
    /// JSON instead of text.
    #[arg(long)]
    pub json: bool,
}

fn set(q: &mut VetQuestion, field: &str, value: &str) -> Result<(), Fail> {
    match q.set.insert(field.into(), value.into()) {
        Some(before) if before != value => Err(Fail::plain(format!(
            "{field}: given twice, {} and {}; keep one of them",
            Quoted(&before),
            Quoted(value)
        ))),
        _ => Ok(()),
    }
}

pub fn run(a: &Vet) -> Result<(), Fail> {
    let mut q = VetQuestion::default();
    if let Some(path) = &a.claim {
        q.text = Some(files::text(path)?);
        q.file = Some(out::name(path));
    }
    let flags = [
        ("engine.power", &a.power),
        ("engine.power_speed", &a.power_speed),
        ("engine.torque", &a.torque),
        ("engine.torque_speed", &a.torque_speed),
        ("engine.displacement", &a.displacement),
        ("engine.stroke", &a.stroke),
        ("engine.charging", &a.charging),
        ("engine.site", &a.site),
        ("engine.standard", &a.standard),
        ("car.mass", &a.mass),
    ];
    for (field, value) in flags {
        if let Some(v) = value {
            set(&mut q, field, v)?;
        }
    }
    for pair in &a.set {
        let (field, value) = pair.split_once('=').ok_or_else(|| {
            Fail::plain(format!("--set {pair:?}: there is no =; write e.g. --set engine.power=221kW"))
        })?;
        set(&mut q, field.trim(), value.trim())?;
    }
    let found = with_declared(&a.declared, |c| fairpull::vet(&q, c).map_err(Fail::from))?;
    if let Some(path) = &a.html {
        let page: fairpull::report::VettingPage = serde_json::to_value(&found)
            .and_then(serde_json::from_value)
            .map_err(|e| Fail::plain(format!("JSON: {e}")))?;
        let dir =
            path.parent().filter(|d| !d.as_os_str().is_empty()).unwrap_or_else(|| std::path::Path::new("."));
        let name = path.file_name().and_then(|n| n.to_str()).ok_or_else(|| {
            Fail::plain(format!("{}: this is no file name; write e.g. --html vetting.html", out::name(path)))
        })?;
        files::prepare(dir, &[name], a.force, "another file with --html")?;
        files::write(dir, &[(name, fairpull::report::vetting_to_html_in(&page, a.language).as_bytes())])?;
    }
    if a.json {
        return out::json(&found);
    }
    let shown = Vetting { title: clean_line(&found.title), ..found };
    out::line(shown.to_string().trim_end())
}
