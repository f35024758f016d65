//! Layout and header together: which column is read, in which unit, counted from where.

use fairpull_units::{Dimension, Reference, Unit, units_of};

use crate::error::Place;
use crate::header::{Name, clock_pattern, locate, unbracket};
use crate::layout::Column;
use crate::sniff::Sniffed;
use crate::{Layout, PressureReference, RecordingError, RepairKind, Repairs, Role};

/// A column that is to be read.
#[derive(Clone, Debug)]
pub(crate) struct Wanted {
    pub role: Role,
    pub index: usize,
    pub name: String,
    pub unit: &'static Unit,
    pub reference: Option<PressureReference>,
    /// Cells hold clock times.
    pub clock: bool,
}

/// Where the header stands, for messages.
pub(crate) struct Header<'a> {
    pub file: &'a str,
    pub line: u64,
    pub names: Vec<Name>,
    /// Cells of the row of units, or empty.
    pub units: &'a [String],
    /// The header line as text.
    pub text: String,
}

impl Header<'_> {
    pub fn place(&self, index: usize) -> Box<Place> {
        let mut rest = self.text.as_str();
        let mut character = 1;
        for name in self.names.iter().take(index + 1) {
            if let Some(at) = rest.find(&name.full) {
                let (skipped, from) = rest.split_at(at);
                character += skipped.chars().count() as u64;
                if self.names.get(index) == Some(name) {
                    break;
                }
                character += name.full.chars().count() as u64;
                rest = from.get(name.full.len()..).unwrap_or("");
            }
        }
        Box::new(Place {
            file: self.file.into(),
            line: self.line,
            character,
            column: index + 1,
            name: self.names.get(index).map(|n| n.full.clone()).unwrap_or_default(),
        })
    }
}

/// `first` is the first row of numbers: it shows whether time is a clock.
pub(crate) fn resolve(
    layout: &Layout,
    header: &Header<'_>,
    sniffed: &Sniffed,
    first: &[String],
    repairs: &mut Repairs,
) -> Result<Vec<Wanted>, RecordingError> {
    let file = header.file.to_owned();
    let mut wanted: Vec<Wanted> = Vec::new();
    for column in &layout.columns {
        let index = locate(column, &header.names, header.file, header.line)?;
        if let Some(other) = wanted.iter().find(|w| w.index == index) {
            let (first, second) = (other.role, column.role);
            return Err(RecordingError::MappedTwice { at: header.place(index), first, second });
        }
        let Some(name) = header.names.get(index) else { continue };
        if let Some(other) = wanted.iter().find(|w| w.role == column.role) {
            let (first, second) = (other.name.clone(), name.full.clone());
            return Err(RecordingError::RoleTwice { file, role: column.role, first, second });
        }
        let clock = column.role == Role::Time && first.get(index).is_some_and(|c| c.contains(':'));
        let (unit, from_file) = match Unit::find_in("s", Dimension::Time) {
            Some(second) if clock => (second, None),
            _ => unit_of(column, index, header)?,
        };
        if let Some(stated) = from_file.filter(|f| f.factor() != unit.factor() || f.offset() != unit.offset())
        {
            let line = sniffed.format.units_line.unwrap_or(header.line);
            repairs.add(RepairKind::UnitOverridden, Some((column.role, &name.full)), 1, line, || {
                format!("the log says {stated}, the layout {unit}")
            });
        }
        let reference = reference(column, index, unit, from_file, header)?;
        wanted.push(Wanted { role: column.role, index, name: name.full.clone(), unit, reference, clock });
    }
    let timed = wanted.iter().any(|w| w.role == Role::Time);
    match layout.sample_rate_hz {
        None if !timed => {
            let all = header.names.iter().map(|n| n.full.clone()).collect();
            Err(RecordingError::NoTime { file, all })
        }
        Some(rate) if timed || !(rate > 0.0 && rate <= 1e6) => Err(RecordingError::SampleRate { file, rate }),
        _ => Ok(wanted),
    }
}

/// The unit to use, and the one the file states if it states one of the right dimension.
fn unit_of(
    column: &Column,
    index: usize,
    header: &Header<'_>,
) -> Result<(&'static Unit, Option<&'static Unit>), RecordingError> {
    let role = column.role;
    let dimension = role.dimension();
    let name = header.names.get(index);
    let cell = header.units.get(index).map(|u| unbracket(u)).filter(|u| !filler(u));
    let written = cell.or_else(|| name.and_then(|n| n.bracket.as_deref())).filter(|t| !clock_pattern(t));
    let in_file = match written {
        Some(text) => Unit::find_in(text, dimension),
        None => name.and_then(|n| n.loose_unit(dimension)),
    };
    if let Some(text) = column.unit.as_deref() {
        return match Unit::find_in(text, dimension) {
            Some(unit) => Ok((unit, in_file)),
            None => Err(bad_unit(role, text, header.place(index))),
        };
    }
    match (in_file, written) {
        (Some(unit), _) => Ok((unit, in_file)),
        (None, Some(text)) => Err(bad_unit(role, text, header.place(index))),
        // A gear and λ are numbers by nature.
        (None, None) => match Unit::find_in("1", dimension) {
            Some(one) if matches!(role, Role::Gear | Role::Lambda) => Ok((one, None)),
            _ => Err(RecordingError::NoUnit { at: header.place(index), role, examples: examples(role) }),
        },
    }
}

fn filler(text: &str) -> bool {
    text.chars().all(|c| matches!(c, '-' | '–' | '.' | '/' | ' '))
}

fn bad_unit(role: Role, text: &str, at: Box<Place>) -> RecordingError {
    let (text, examples) = (text.to_owned(), examples(role));
    match Unit::find(&text) {
        Some(u) => RecordingError::WrongDimension { at, role, text, found: u.dimension(), examples },
        None => RecordingError::UnknownUnit { at, role, text, examples },
    }
}

/// The first few units of a role's dimension.
pub(crate) fn examples(role: Role) -> String {
    let plain = units_of(role.dimension()).filter(|u| u.reference() == Reference::Unstated);
    plain.take(4).map(Unit::symbol).collect::<Vec<_>>().join(", ")
}

/// Gauge or absolute, from layout and unit together.
fn reference(
    column: &Column,
    index: usize,
    unit: &'static Unit,
    from_file: Option<&'static Unit>,
    header: &Header<'_>,
) -> Result<Option<PressureReference>, RecordingError> {
    let conflict = |stated: &'static str, why: String| {
        Err(RecordingError::ReferenceConflict { at: header.place(index), stated, why })
    };
    if column.role.dimension() != Dimension::Pressure {
        return match column.reference {
            Some(r) => conflict(r.words(), format!("{} is no pressure", column.role)),
            None => Ok(None),
        };
    }
    let says = |u: &Unit| match u.reference() {
        Reference::Gauge => Some(PressureReference::Gauge),
        Reference::Absolute => Some(PressureReference::Absolute),
        Reference::Unstated => None,
    };
    let by_unit = says(unit).map(|r| (r, unit)).or_else(|| from_file.and_then(|u| says(u).map(|r| (r, u))));
    let found = match (column.reference, by_unit) {
        (Some(stated), Some((r, u))) if stated != r => {
            return conflict(stated.words(), format!("the unit {u} says {}", r.words()));
        }
        (stated, by_unit) => stated.or(by_unit.map(|b| b.0)),
    };
    match found {
        Some(PressureReference::Gauge) if column.role == Role::AmbientPressure => {
            conflict("gauge", "the ambient pressure is what gauge pressures are counted from".into())
        }
        None if column.role.needs_reference() => Err(RecordingError::NoReference {
            at: header.place(index),
            role: column.role,
            unit: unit.symbol(),
        }),
        None => Ok(Some(PressureReference::Absolute)),
        some => Ok(some),
    }
}
