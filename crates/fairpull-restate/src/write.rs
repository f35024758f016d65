//! A figure to its one-line notation: `{}` for people, `{:#}` for links (no character there needs escaping).

use crate::{Figure, Humidity, Interval, Site, Span, Treatment};
use fairpull_core::Rating;
use fairpull_units::Unit;
use std::fmt::{Display, Formatter, Result};

/// Words of the notation that a bare standard id must not be mistaken for.
pub(crate) const WORDS: [&str; 12] =
    ["crank", "wheel", "hub", "observed", "net", "gross", "air", "fuel", "pm", "range", "code", "either"];

/// True for an id that may stand bare: lower-case letters, digits, hyphens, dots; a letter first, a digit somewhere.
pub(crate) fn is_bare_id(id: &str) -> bool {
    let plain = |b: u8| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-' || b == b'.';
    id.bytes().all(plain)
        && id.starts_with(|c: char| c.is_ascii_lowercase())
        && id.contains(|c: char| c.is_ascii_digit())
        && !id.contains("..")
        && !WORDS.contains(&id)
}

/// Letters that a word keeps as they are; all others are written `~hex~`.
fn keeps(c: char) -> bool {
    c.is_ascii_alphanumeric() || matches!(c, '.' | '-' | '+')
}

fn escaped(text: &str, blank: char) -> String {
    let mut out = String::new();
    for c in text.split_whitespace().collect::<Vec<_>>().join(" ").chars() {
        match c {
            ' ' => out.push(blank),
            c if keeps(c) => out.push(c),
            c => out.push_str(&format!("~{:x}~", u32::from(c))),
        }
    }
    out
}

/// A word for the unit that stands in a link as it is, and means the same unit: a known word, or one without its dots.
fn link_word(unit: &'static Unit) -> String {
    let known = || std::iter::once(unit.symbol()).chain(unit.aliases().iter().copied());
    let undotted = known().map(|w| w.replace('·', ""));
    known()
        .map(str::to_owned)
        .chain(undotted)
        .find(|w| {
            w.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'/')
                && Unit::find_in(w, unit.dimension()) == Some(unit)
        })
        .unwrap_or_else(|| unit.symbol().to_owned())
}

/// How the two forms differ.
struct Form {
    blank: &'static str,
    key: &'static str,
    item: &'static str,
    comma: &'static str,
    link: bool,
}

const PEOPLE: Form = Form { blank: " ", key: " ", item: "; ", comma: ", ", link: false };
const LINK: Form = Form { blank: "", key: "=", item: ";", comma: ",", link: true };

impl Form {
    fn span(&self, s: Span, unit: &str) -> String {
        if s.is_exact() {
            format!("{}{}{unit}", s.low, self.blank)
        } else {
            format!("{}..{}{}{unit}", s.low, s.high, self.blank)
        }
    }

    fn humidity(&self, humidity: &Humidity) -> String {
        let celsius = if self.link { "C" } else { "°C" };
        match humidity {
            Humidity::Vapour(s) => format!("vapour{}{}", self.key, self.span(*s, "kPa")),
            Humidity::DewPoint(s) => format!("dew{}{}", self.key, self.span(*s, celsius)),
            Humidity::Relative(s) => {
                let percent = Span::new(100.0 * s.low, 100.0 * s.high);
                // Percent only where it reads back as the same numbers.
                if percent.low / 100.0 == s.low && percent.high / 100.0 == s.high {
                    self.span(percent, if self.link { "pct" } else { "%" })
                } else {
                    format!("rh{}{}", self.key, self.span(*s, "").trim_end())
                }
            }
        }
    }

    fn write(&self, figure: &Figure, f: &mut Formatter<'_>) -> Result {
        let unit = if self.link { link_word(figure.unit) } else { figure.unit.symbol().to_owned() };
        write!(f, "{}{}{unit}", figure.value, self.blank)?;
        if let Some(rpm) = figure.engine_speed_rpm {
            write!(f, "{b}@{b}{rpm}{b}rpm", b = self.blank)?;
        }
        let item = |f: &mut Formatter<'_>, text: &str| write!(f, "{}{text}", self.item);
        if let Some(site) = figure.site {
            item(f, Site::word(site))?;
        }
        match &figure.treatment {
            None => {}
            Some(Treatment::Observed) => item(f, "observed")?,
            Some(Treatment::Corrected(id)) if is_bare_id(id) => item(f, id)?,
            Some(Treatment::Corrected(id)) => item(f, &format!("code{}{}", self.key, escaped(id, '_')))?,
        }
        match figure.rating {
            None => {}
            Some(Rating::Net) => item(f, "net")?,
            Some(Rating::Gross) => item(f, "gross")?,
            Some(Rating::Either) => item(f, "either")?,
        }
        let celsius = if self.link { "C" } else { "°C" };
        let air: Vec<String> = [
            figure.air.pressure_kpa.map(|s| self.span(s, "kPa")),
            figure.air.temperature_c.map(|s| self.span(s, celsius)),
            figure.air.humidity.map(|h| self.humidity(&h)),
        ]
        .into_iter()
        .flatten()
        .collect();
        if !air.is_empty() {
            item(f, &format!("air{}{}", self.key, air.join(self.comma)))?;
        }
        if let Some(fuel) = &figure.fuel
            && !fuel.trim().is_empty()
        {
            item(f, &format!("fuel{}{}", self.key, escaped(fuel, if self.link { '_' } else { ' ' })))?;
        }
        match figure.interval {
            None => Ok(()),
            Some(Interval::Half(h)) if self.link => item(f, &format!("pm={h}{unit}")),
            Some(Interval::Half(h)) => item(f, &format!("±{h} {unit}")),
            Some(Interval::Ends(low, high)) => {
                item(f, &format!("range{}{low}..{high}{}{unit}", self.key, self.blank))
            }
        }
    }
}

impl Display for Figure {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        if f.alternate() { LINK.write(self, f) } else { PEOPLE.write(self, f) }
    }
}

impl Figure {
    /// The notation for a link: no character of it needs escaping in the fragment of a URL (RFC 3986, 3.5).
    #[must_use]
    pub fn to_link(&self) -> String {
        format!("{self:#}")
    }
}
