//! What was mended, dropped or found odd: counted, with the first line and an example, so that nothing is lost silently.

use serde::Serialize;

use crate::Role;

/// Kind of a repair or finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum RepairKind {
    /// A comment line was skipped.
    CommentLine,
    /// The header was written again inside the data; skipped.
    HeaderRepeated,
    /// A line of text inside the data was skipped.
    TextRow,
    /// A row with too few cells was dropped.
    ShortRow,
    /// A row with too many cells was dropped, because its cells may have moved.
    LongRow,
    /// The last line breaks off; dropped.
    TruncatedLastRow,
    /// A row without a readable time stamp was dropped.
    NoTimeStamp,
    /// A row with the time stamp of the row before was dropped.
    RepeatedStamp,
    /// A row out of order (a short step back in time) was dropped.
    BackwardStamp,
    /// A row whose time stamp leaps ahead and back again was dropped.
    LeapingStamp,
    /// The newest row stood first; the rows were turned round.
    NewestFirst,
    /// The clock passed midnight; 24 h were added from there on.
    MidnightPassed,
    /// The clock started again; the rows after it were moved behind the rows before.
    ClockRestarted,
    /// Rows are missing in time. Nothing was filled in.
    Gap,
    /// The time between rows varies. Nothing was resampled.
    UnevenRate,
    /// An empty cell was read as missing.
    EmptyCell,
    /// A cell with a word for "no value", NaN or infinity was read as missing.
    NoValue,
    /// A cell that is not a number was read as missing.
    NotANumber,
    /// A value outside what is physically possible was set to missing.
    Impossible,
    /// A spike of one or two samples was set to missing.
    Spike,
    /// A channel stood still while a speed changed. Nothing was changed.
    Stuck,
    /// A channel never changes. Nothing was changed.
    NeverChanges,
    /// The job file and the log state different units; the job file's was used.
    UnitOverridden,
    /// The log has no header; its columns are called by number.
    NoHeader,
}

impl RepairKind {
    /// What happened, for a report.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::CommentLine => "comment line skipped",
            Self::HeaderRepeated => "repeated header skipped",
            Self::TextRow => "line of text inside the data skipped",
            Self::ShortRow => "row with too few cells dropped",
            Self::LongRow => "row with too many cells dropped",
            Self::TruncatedLastRow => "last line breaks off, dropped",
            Self::NoTimeStamp => "row without a readable time stamp dropped",
            Self::RepeatedStamp => "row with a repeated time stamp dropped (the first one kept)",
            Self::BackwardStamp => "row out of order in time dropped",
            Self::LeapingStamp => "row with a leaping time stamp dropped",
            Self::NewestFirst => "newest row first, rows turned round",
            Self::MidnightPassed => "clock passed midnight, 24 h added",
            Self::ClockRestarted => "clock started again, rows moved behind the earlier ones",
            Self::Gap => "gap in time, left open",
            Self::UnevenRate => "uneven time between rows, left as it is",
            Self::EmptyCell => "empty cell, read as missing",
            Self::NoValue => "cell without a finite value, read as missing",
            Self::NotANumber => "cell that is not a number, read as missing",
            Self::Impossible => "physically impossible value, set to missing",
            Self::Spike => "spike, set to missing",
            Self::Stuck => "channel stands still while a speed changes, left as it is",
            Self::NeverChanges => "channel never changes, left as it is",
            Self::UnitOverridden => "unit of the job file used instead of the log's",
            Self::NoHeader => "no header, columns called by number",
        }
    }

    /// True when data were left out or set to missing; false for a finding that changed no value.
    #[must_use]
    pub const fn removes_data(self) -> bool {
        matches!(
            self,
            Self::TextRow
                | Self::ShortRow
                | Self::LongRow
                | Self::TruncatedLastRow
                | Self::NoTimeStamp
                | Self::RepeatedStamp
                | Self::BackwardStamp
                | Self::LeapingStamp
                | Self::NoValue
                | Self::NotANumber
                | Self::Impossible
                | Self::Spike
        )
    }
}

/// One kind of repair on one column (or on whole rows), counted.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Repair {
    /// What was done.
    pub kind: RepairKind,
    /// Role of the column; none when whole rows are concerned.
    pub role: Option<Role>,
    /// Name of the column in the log.
    pub column: Option<String>,
    /// How often.
    pub count: u64,
    /// Line of the first case, counted from 1.
    pub first_line: u64,
    /// The first case as text, with its unit.
    pub example: String,
}

impl core::fmt::Display for Repair {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        if let Some(column) = &self.column {
            write!(f, "column \"{column}\": ")?;
        }
        write!(f, "{} ({}×, first at line {}", self.kind.words(), self.count, self.first_line)?;
        if !self.example.is_empty() {
            write!(f, ": {}", self.example)?;
        }
        f.write_str(")")
    }
}

/// Every repair of a recording, in the order of [`RepairKind`] and of the columns.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[serde(transparent)]
pub struct Repairs(Vec<Repair>);

impl Repairs {
    /// The repairs, one by one.
    pub fn iter(&self) -> core::slice::Iter<'_, Repair> {
        self.0.iter()
    }

    /// True when nothing was mended or found.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Number of cases of one kind over all columns.
    #[must_use]
    pub fn count(&self, kind: RepairKind) -> u64 {
        self.0.iter().filter(|r| r.kind == kind).map(|r| r.count).sum()
    }

    /// Adds cases of one kind. `example` is only asked for the first.
    pub(crate) fn add(
        &mut self,
        kind: RepairKind,
        column: Option<(Role, &str)>,
        count: u64,
        line: u64,
        example: impl FnOnce() -> String,
    ) {
        let role = column.map(|c| c.0);
        let place = self.0.iter().position(|r| (r.kind, r.role) >= (kind, role)).unwrap_or(self.0.len());
        match self.0.get_mut(place) {
            Some(r) if r.kind == kind && r.role == role => r.count += count,
            _ => self.0.insert(
                place,
                Repair {
                    kind,
                    role,
                    column: column.map(|c| c.1.to_owned()),
                    count,
                    first_line: line,
                    example: example(),
                },
            ),
        }
    }
}

impl<'a> IntoIterator for &'a Repairs {
    type Item = &'a Repair;
    type IntoIter = core::slice::Iter<'a, Repair>;
    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}
