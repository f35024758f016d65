//! The result on a terminal.

use crate::escape::clean_line;
use crate::html_cost::lines;
use crate::html_stress::margin_lines;
use crate::model::{Comparison, Peak, ResultModel, State};
use crate::page::{Page, in_unit};
use crate::pattern::fill;
use crate::said::say;
use crate::text::Language;
use crate::units::Unit;

const BOLD: &str = "\u{1b}[1m";
const DIM: &str = "\u{1b}[2m";
const PLAIN: &str = "\u{1b}[0m";

/// The result in lines of at most `width` characters (at least 40), with bold and dim type where `colour` is true.
/// Control characters in names never reach the terminal.
#[must_use]
pub fn summary_text(result: &ResultModel, width: usize, colour: bool) -> String {
    summary_text_in(result, width, colour, Language::English)
}

/// The same in a language.
#[must_use]
pub fn summary_text_in(result: &ResultModel, width: usize, colour: bool, language: Language) -> String {
    let p = Page::new(result, language);
    let mut out = Lines { text: String::new(), width: width.max(40), colour };
    out.styled(BOLD, &result.title);
    if let Some(note) = &result.note {
        out.paragraph("", note);
    }
    for c in &result.comparisons {
        comparison(&mut out, &p, c);
    }
    if result.states.is_empty() {
        out.blank();
        out.paragraph("", p.w.no_states);
    } else {
        peaks(&mut out, &p, p.w.peak_power, &p.power, |s| &s.peak_power);
        peaks(&mut out, &p, p.w.peak_torque, &p.torque, |s| &s.peak_torque);
        if result.states.iter().any(|s| s.peak_power.at_edge || s.peak_torque.at_edge) {
            out.paragraph("", p.w.edge_note);
        }
        runs(&mut out, &p);
    }
    let margins = margin_lines(&p);
    if !margins.is_empty() {
        out.blank();
        out.styled(BOLD, p.w.margins);
        for l in margins {
            out.paragraph("- ", &l);
        }
        out.paragraph("", p.w.margin_caution);
    }
    out.blank();
    out.paragraph("", &format!("{}: {}", p.w.basis, p.told(&result.basis.statement)));
    if !result.notices.is_empty() {
        out.blank();
        out.styled(BOLD, p.w.notices);
        for n in &result.notices {
            out.paragraph("- ", &p.told(n));
        }
    }
    out.blank();
    out.styled(DIM, p.w.interval_note);
    out.text
}

fn comparison(out: &mut Lines, p: &Page, c: &Comparison) {
    out.blank();
    out.styled(BOLD, &format!("{} → {}", c.from, c.to));
    out.paragraph("", &p.told(&c.statement));
    for l in lines(p, c) {
        out.paragraph("- ", &l.text());
    }
    out.paragraph("- ", &fill(p.w.detectable_line, &[&p.fixed(c.smallest_detectable_percent, 1)]));
    for r in &c.remarks {
        out.paragraph("- ", &say(p.w, r).capital().text());
    }
}

fn peaks(out: &mut Lines, p: &Page, heading: &str, units: &[Unit], of: fn(&State) -> &Peak) {
    out.blank();
    let mut rows = vec![vec![heading.to_owned()]];
    if let Some(head) = rows.first_mut() {
        head.extend(units.iter().map(|u| u.word.to_owned()));
        head.push(p.w.at_speed.to_owned());
    }
    for s in &p.m.states {
        let peak = of(s);
        let mut row = vec![clean_line(&s.name)];
        row.extend(units.iter().map(|u| p.say(in_unit(peak.value, *u), false, "").trim_end().to_owned()));
        row.push(p.peak_speed(peak));
        rows.push(row);
    }
    out.table(&rows);
}

fn runs(out: &mut Lines, p: &Page) {
    let scatter: Vec<String> =
        p.m.states
            .iter()
            .map(|s| fill(p.w.scatter, &[&s.name, &p.fixed(s.repeatability_percent, 2)]))
            .collect();
    out.blank();
    out.paragraph("", &fill(p.w.repeats_note, &[&scatter.join(", ")]));
    for s in &p.m.states {
        if let Some(soak) = &s.soak {
            out.paragraph("", &format!("{}, {}: {}", p.w.soak, s.name, p.told(&soak.statement)));
        }
    }
    let pulls = || p.m.states.iter().flat_map(|s| &s.pulls);
    for q in pulls() {
        for f in &q.flags {
            out.paragraph("- ", &format!("{}: {}", p.pull(q), p.told(f)));
        }
    }
    let repairs: usize = pulls().flat_map(|q| &q.repairs).map(|r| r.count).sum();
    if repairs > 0 {
        out.paragraph("", &format!("{}: {repairs}", p.w.repairs));
    }
}

struct Lines {
    text: String,
    width: usize,
    colour: bool,
}

impl Lines {
    fn blank(&mut self) {
        self.text.push('\n');
    }

    fn styled(&mut self, style: &str, text: &str) {
        for l in fold(&clean_line(text), self.width) {
            if self.colour {
                self.text.push_str(&format!("{style}{l}{PLAIN}\n"));
            } else {
                self.text.push_str(&format!("{l}\n"));
            }
        }
    }

    /// Wrapped text; the lead stands before the first line, later lines are indented as far.
    fn paragraph(&mut self, lead: &str, text: &str) {
        let indent = lead.chars().count();
        for (i, l) in fold(&clean_line(text), self.width - indent).iter().enumerate() {
            let before = if i == 0 { lead.to_owned() } else { " ".repeat(indent) };
            self.text.push_str(&format!("{before}{l}\n"));
        }
    }

    /// Names to the left, numbers to the right; where the table is wider than the room, the names are cut.
    fn table(&mut self, rows: &[Vec<String>]) {
        let count = rows.first().map_or(0, Vec::len);
        let cell = |row: &Vec<String>, i: usize| row.get(i).map_or(0, |c| c.chars().count());
        let mut widths: Vec<usize> =
            (0..count).map(|i| rows.iter().map(|r| cell(r, i)).max().unwrap_or(0)).collect();
        let rest: usize = widths.iter().skip(1).map(|w| w + 2).sum();
        if let Some(first) = widths.first_mut() {
            *first = (*first).min(self.width.saturating_sub(rest).max(10));
        }
        for (r, row) in rows.iter().enumerate() {
            let mut line = String::new();
            for (i, (text, width)) in row.iter().zip(&widths).enumerate() {
                let text = cut(text, *width);
                let gap = width - text.chars().count();
                if i == 0 {
                    line.push_str(&format!("{text}{}", " ".repeat(gap)));
                } else {
                    line.push_str(&format!("  {}{text}", " ".repeat(gap)));
                }
            }
            let line = line.trim_end();
            if r == 0 && self.colour {
                self.text.push_str(&format!("{BOLD}{line}{PLAIN}\n"));
            } else {
                self.text.push_str(&format!("{line}\n"));
            }
        }
    }
}

fn cut(text: &str, width: usize) -> String {
    if text.chars().count() <= width {
        return text.to_owned();
    }
    text.chars().take(width.saturating_sub(1)).chain(['…']).collect()
}

/// Lines of at most `width` characters, broken at blanks; a longer word is broken where it must be.
fn fold(text: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    // A number keeps its percent sign and its half width on the same line.
    let text = text.replace(" %", "\u{1}%").replace("± ", "±\u{1}").replace(" ±", "\u{1}±");
    for word in text.split_whitespace() {
        let mut word: Vec<char> = word.chars().map(|c| if c == '\u{1}' { ' ' } else { c }).collect();
        loop {
            let last = lines.last().map_or(0, |l| l.chars().count());
            let gap = usize::from(last > 0);
            if last + gap + word.len() <= width {
                if let Some(l) = lines.last_mut() {
                    l.push_str(if gap == 1 { " " } else { "" });
                    l.extend(word);
                }
                break;
            }
            if last > 0 {
                lines.push(String::new());
                continue;
            }
            let rest = word.split_off(width.min(word.len()));
            if let Some(l) = lines.last_mut() {
                l.extend(word);
            }
            lines.push(String::new());
            word = rest;
        }
    }
    lines
}
