//! What every part of the page shares: the result, the words, the units, and a few small renderings.

use crate::digits::{Style, interval};
use crate::model::{Interval, Peak, Pull, ResultModel};
use crate::said::{cited, say};
use crate::svg::swatch;
use crate::text::{Language, Words};
use crate::units::{Unit, chosen, power, torque};
use maud::{Markup, PreEscaped, html};

/// A page in the making.
pub(crate) struct Page<'a> {
    pub(crate) m: &'a ResultModel,
    pub(crate) w: &'static Words,
    pub(crate) language: Language,
    pub(crate) style: Style,
    pub(crate) power: Vec<Unit>,
    pub(crate) torque: Vec<Unit>,
}

/// An interval in another unit.
pub(crate) fn in_unit(i: Interval, unit: Unit) -> Interval {
    Interval { value: unit.of(i.value), lo95: unit.of(i.lo95), hi95: unit.of(i.hi95) }
}

impl<'a> Page<'a> {
    pub(crate) fn new(m: &'a ResultModel, language: Language) -> Self {
        Self {
            m,
            w: language.words(),
            language,
            style: language.style(),
            power: chosen(&m.units.power, power, "kW"),
            torque: chosen(&m.units.torque, torque, "Nm"),
        }
    }

    /// The main unit of power.
    pub(crate) fn main_power(&self) -> Unit {
        self.power.first().copied().unwrap_or(Unit { word: "kW", worth: 1.0 })
    }

    /// The main unit of torque.
    pub(crate) fn main_torque(&self) -> Unit {
        self.torque.first().copied().unwrap_or(Unit { word: "Nm", worth: 1.0 })
    }

    /// Number and spread side by side.
    pub(crate) fn show(&self, i: Interval, change: bool) -> Markup {
        let shown = interval(i, change, self.style);
        html! { (shown.value) @if !shown.spread.is_empty() { " " span.pm { (shown.spread) } } }
    }

    /// The same as plain text with a unit.
    pub(crate) fn say(&self, i: Interval, change: bool, unit: &str) -> String {
        let shown = interval(i, change, self.style);
        let spread = if shown.spread.is_empty() { String::new() } else { format!(" {}", shown.spread) };
        format!("{}{spread} {unit}", shown.value)
    }

    /// A number with fixed decimals.
    pub(crate) fn fixed(&self, v: f64, decimals: i32) -> String {
        crate::digits::number(v, decimals, self.style)
    }

    /// Engine speed, to the nearest 10.
    pub(crate) fn speed(&self, rpm: f64) -> String {
        self.fixed(rpm, -1)
    }

    /// Speed of a peak, marked when it lies at the edge.
    pub(crate) fn peak_speed(&self, p: &Peak) -> String {
        format!("{}{}", self.speed(p.engine_speed_rpm), if p.at_edge { " *" } else { "" })
    }

    /// A text of the result, in the language of the page as far as it is known there.
    pub(crate) fn said(&self, text: &str) -> Markup {
        say(self.w, text).markup()
    }

    /// A text of the result at the head of a row or a step.
    pub(crate) fn headed(&self, text: &str) -> Markup {
        say(self.w, text).capital().markup()
    }

    /// The source of something: a citation, in its own words unless they are known.
    pub(crate) fn cited(&self, text: &str) -> Markup {
        self.language.say(text).map_or_else(|| cited(self.w, text).markup(), t)
    }

    /// A text of the result as plain text.
    pub(crate) fn told(&self, text: &str) -> String {
        say(self.w, text).text()
    }

    /// Name of a pull: its file, and which one of several in it.
    pub(crate) fn pull(&self, q: &Pull) -> String {
        if q.name == q.file { q.name.clone() } else { self.told(&q.name) }
    }

    /// Name and unit of a figure; a ratio has no unit to show.
    pub(crate) fn named(&self, name: &str, unit: &str) -> Markup {
        html! { (self.headed(name)) @if !unit.is_empty() && unit != "1" { ", " (self.told(unit)) } }
    }

    /// The number of the look of a state.
    pub(crate) fn slot_of(&self, state: &str) -> usize {
        self.m.states.iter().position(|s| s.name == state).unwrap_or(0)
    }

    /// Name of a state behind a sample of its line.
    pub(crate) fn state(&self, name: &str) -> Markup {
        html! { span.state { (PreEscaped(swatch(self.slot_of(name)))) " " bdi { (name) } } }
    }
}

/// A section with its heading in the margin; nothing when there is nothing to say.
pub(crate) fn section(id: &str, heading: &str, body: Markup) -> Markup {
    section_of(id, t(heading), body)
}

/// The same with a heading that may hold marks.
pub(crate) fn section_of(id: &str, heading: Markup, body: Markup) -> Markup {
    html! { section aria-labelledby=(id) { h2 id=(id) { (heading) } div.body { (body) } } }
}

/// A column of a table.
#[derive(Clone, Copy)]
pub(crate) enum Col<'a> {
    /// Text, to the left.
    Text(&'a str),
    /// Numbers, to the right.
    Number(&'a str),
    /// A drawing, left out on narrow screens.
    Strip,
}

impl Col<'_> {
    fn class(self) -> &'static str {
        match self {
            Self::Text(_) => "t",
            Self::Number(_) => "n",
            Self::Strip => "s",
        }
    }
}

/// A table that scrolls by itself on a narrow screen; the first cell of a row names it.
pub(crate) fn table(caption: &str, cols: &[Col], rows: &[Vec<Markup>]) -> Markup {
    grid(caption, true, cols, rows)
}

/// The same where the heading above already says what the caption would.
pub(crate) fn quiet_table(caption: &str, cols: &[Col], rows: &[Vec<Markup>]) -> Markup {
    grid(caption, false, cols, rows)
}

fn grid(caption: &str, shown: bool, cols: &[Col], rows: &[Vec<Markup>]) -> Markup {
    // one that fits a page is not torn on paper; one with many columns scrolls on a phone anyhow, so its last has room
    let classes = match (rows.len() <= 10, cols.len() > 4) {
        (true, true) => Some("short many"),
        (true, false) => Some("short"),
        (false, true) => Some("many"),
        (false, false) => None,
    };
    html! {
        div.wide role="region" aria-label=(caption) tabindex="0" {
            table class=[classes] {
                @if shown { caption { (caption) } }
                thead { tr { @for c in cols {
                    @match c {
                        Col::Text(h) | Col::Number(h) => th scope="col" class=(c.class()) { (h) },
                        Col::Strip => td class="s" {},
                    }
                } } }
                tbody {
                    @for row in rows {
                        tr {
                            @for (i, (cell, col)) in row.iter().zip(cols).enumerate() {
                                @if i == 0 { th scope="row" class=(col.class()) { (cell) } }
                                @else { td class=(col.class()) { (cell) } }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// Text as markup.
pub(crate) fn t(text: impl AsRef<str>) -> Markup {
    html! { (text.as_ref()) }
}
