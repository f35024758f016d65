//! Why a log cannot be read: where, what stood there, what was expected, and how to mend it.

use fairpull_units::Dimension;

use crate::Role;

/// A place in a log.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Place {
    /// Name the log was read under.
    pub file: String,
    /// Line, counted from 1.
    pub line: u64,
    /// Character in the line, counted from 1.
    pub character: u64,
    /// Column, counted from 1.
    pub column: usize,
    /// Name of the column as the header writes it.
    pub name: String,
}

impl core::fmt::Display for Place {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "{}:{}:{}: column {} \"{}\"", self.file, self.line, self.character, self.column, self.name)
    }
}

/// Why a log cannot be read.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum RecordingError {
    /// The file holds nothing, or only blank lines.
    #[error("{file}: the file is empty; expected a header and rows of numbers. Export the log again")]
    Empty {
        /// Name of the log.
        file: String,
    },
    /// The file cannot be read.
    #[error("{file}: {problem}")]
    Unreadable {
        /// Name of the log.
        file: String,
        /// What the system said.
        problem: String,
    },
    /// The file is not text.
    #[error(
        "{file}: byte {offset} is {byte:#04x}, so this is not a text file; expected comma, semicolon, tab or bar separated text. Export the log as text (CSV)"
    )]
    Binary {
        /// Name of the log.
        file: String,
        /// Offset of the first byte that cannot stand in text.
        offset: usize,
        /// The byte.
        byte: u8,
    },
    /// A line is longer than any that is read.
    #[error(
        "{file}:{line}: the line has no end within {most} MB (it begins \"{begins}\"); expected lines of at most {most} MB (a row of 100,000 columns takes some 2). Export the log again with one row of numbers a line"
    )]
    TooLong {
        /// Name of the log.
        file: String,
        /// The line.
        line: u64,
        /// Its first characters.
        begins: String,
        /// Longest line, MB.
        most: usize,
    },
    /// A line has more cells than are read.
    #[error(
        "{file}:{line}: {cells} cells in the line, separator {separator}; expected at most {most}. Export only the columns that are needed"
    )]
    TooWide {
        /// Name of the log.
        file: String,
        /// The line.
        line: u64,
        /// Cells found.
        cells: usize,
        /// Their separator.
        separator: &'static str,
        /// Most cells.
        most: usize,
    },
    /// The text is not in the stated encoding.
    #[error(
        "{file}:{line}: not {stated} text; leave `encoding` out of the layout to have it detected, or state the right one (utf-8, latin-1, utf-16le, utf-16be)"
    )]
    Encoding {
        /// Name of the log.
        file: String,
        /// Line of the first bad byte.
        line: u64,
        /// The stated encoding.
        stated: &'static str,
    },
    /// No row of numbers was found.
    #[error(
        "{file}: no row of numbers in the first {lines} line(s); expected a header followed by at least two rows of numbers. {mend}"
    )]
    NoNumbers {
        /// Name of the log.
        file: String,
        /// Lines searched.
        lines: u64,
        /// What to do.
        mend: &'static str,
    },
    /// Too few rows remain to be a recording.
    #[error(
        "{file}:{line}: only {rows} row of numbers with a time stamp; expected at least two. Export the whole log"
    )]
    TooFewRows {
        /// Name of the log.
        file: String,
        /// Line where the rows start.
        line: u64,
        /// Rows found.
        rows: usize,
    },
    /// The rows have fewer cells than the layout needs.
    #[error(
        "{file}:{line}: {found} cell(s) in the row, separator {separator}; expected at least {expected}. State `separator` (comma, semicolon, tab, bar) in the layout, or export the log again"
    )]
    TooFewColumns {
        /// Name of the log.
        file: String,
        /// Line of the row.
        line: u64,
        /// Cells found.
        found: usize,
        /// Cells needed.
        expected: usize,
        /// Separator in use.
        separator: &'static str,
    },
    /// Many rows have more cells than the header.
    #[error(
        "{file}:{line}: {found} cells in the row, but {expected} columns in the header (so in {bad} of {rows} rows); cells may have moved. If the log mixes decimal commas with comma separators, export it with semicolons or decimal points"
    )]
    TooManyColumns {
        /// Name of the log.
        file: String,
        /// Line of the first such row.
        line: u64,
        /// Cells found.
        found: usize,
        /// Columns in the header.
        expected: usize,
        /// Number of such rows.
        bad: u64,
        /// Number of rows.
        rows: u64,
    },
    /// The layout maps no column.
    #[error(
        "{file}: the layout maps no column; map at least time and one speed, e.g. {{ role = \"time\", name = \"Time\", unit = \"s\" }}"
    )]
    NothingMapped {
        /// Name of the log.
        file: String,
    },
    /// The layout maps no time.
    #[error(
        "{file}: no column is mapped as time; map one with role = \"time\", or state `sample_rate_hz` if the log has none. Columns: {}",
        list(all)
    )]
    NoTime {
        /// Name of the log.
        file: String,
        /// Names in the header.
        all: Vec<String>,
    },
    /// The stated sample rate is no rate.
    #[error(
        "{file}: sample_rate_hz is {rate} Hz; expected a number above 0 and at most 1000000 Hz, and only where no column is mapped as time"
    )]
    SampleRate {
        /// Name of the log.
        file: String,
        /// The stated rate.
        rate: f64,
    },
    /// A mapped column is not in the log.
    #[error(
        "{file}:{line}: no column \"{name}\" for {role}{}; columns: {}",
        did_you_mean(nearest),
        list(all)
    )]
    UnknownColumn {
        /// Name of the log.
        file: String,
        /// Line of the header.
        line: u64,
        /// What it was mapped to.
        role: Role,
        /// The name looked for.
        name: String,
        /// The name that comes nearest.
        nearest: Option<String>,
        /// All names in the header.
        all: Vec<String>,
    },
    /// A mapped name fits more than one column.
    #[error(
        "{file}:{line}: \"{name}\" for {role} fits columns {} ({}); {}",
        numbers(columns),
        list(names),
        mend_duplicate(names)
    )]
    DuplicateName {
        /// Name of the log.
        file: String,
        /// Line of the header.
        line: u64,
        /// What it was mapped to.
        role: Role,
        /// The name looked for.
        name: String,
        /// The columns it fits, counted from 1.
        columns: Vec<usize>,
        /// Their full names.
        names: Vec<String>,
    },
    /// One column was mapped to two roles.
    #[error(
        "{at}: mapped both as {first} and as {second}; a column holds one thing. Remove one of the two from the layout"
    )]
    MappedTwice {
        /// The column.
        at: Box<Place>,
        /// One role.
        first: Role,
        /// The other role.
        second: Role,
    },
    /// Two columns were mapped to one role.
    #[error(
        "{file}: {role} is mapped to \"{first}\" and to \"{second}\"; keep the better of the two in the layout"
    )]
    RoleTwice {
        /// Name of the log.
        file: String,
        /// The role.
        role: Role,
        /// One column.
        first: String,
        /// The other column.
        second: String,
    },
    /// Neither job file nor log states the unit.
    #[error("{at}: no unit for {role}, neither in the log nor in the layout; expected a unit of {}, e.g. {examples}. Add unit = \"…\" to the column in the layout", role.dimension())]
    NoUnit {
        /// The column.
        at: Box<Place>,
        /// Its role.
        role: Role,
        /// Units that would do.
        examples: String,
    },
    /// The unit is not known.
    #[error("{at}: \"{text}\" is no unit known here for {role}; expected a unit of {}, e.g. {examples}. Add unit = \"…\" to the column in the layout", role.dimension())]
    UnknownUnit {
        /// The column.
        at: Box<Place>,
        /// Its role.
        role: Role,
        /// The unit as written.
        text: String,
        /// Units that would do.
        examples: String,
    },
    /// The unit measures something else.
    #[error("{at}: \"{text}\" is a unit of {found}, but {role} is a {}; expected e.g. {examples}. Correct the unit or the role in the layout", role.dimension())]
    WrongDimension {
        /// The column.
        at: Box<Place>,
        /// Its role.
        role: Role,
        /// The unit as written.
        text: String,
        /// What the unit measures.
        found: Dimension,
        /// Units that would do.
        examples: String,
    },
    /// Nobody says whether a pressure is gauge or absolute.
    #[error(
        "{at}: {role} in {unit}: gauge or absolute? Neither the unit nor the layout says; add reference = \"gauge\" or reference = \"absolute\" to the column"
    )]
    NoReference {
        /// The column.
        at: Box<Place>,
        /// Its role.
        role: Role,
        /// The unit.
        unit: &'static str,
    },
    /// Unit and layout contradict each other, or the reference makes no sense.
    #[error("{at}: the layout says {stated}, but {why}; correct `reference` or `unit` in the layout")]
    ReferenceConflict {
        /// The column.
        at: Box<Place>,
        /// What the layout says.
        stated: &'static str,
        /// What speaks against it.
        why: String,
    },
    /// Numbers that can be read in two ways.
    #[error(
        "{at}: \"{text}\" can mean {as_decimal} or {as_thousands}, and no other number in the log settles it; state decimal = \"comma\" or decimal = \"point\" in the layout"
    )]
    AmbiguousDecimal {
        /// The cell.
        at: Box<Place>,
        /// The cell as written.
        text: String,
        /// Read with a decimal comma.
        as_decimal: String,
        /// Read with a comma between thousands.
        as_thousands: String,
    },
    /// Too many cells of a column are not numbers.
    #[error(
        "{at}: \"{text}\" is not a number ({bad} of {cells} cells are not); expected a number{}. {mend}",
        in_unit(unit)
    )]
    NotANumber {
        /// The first such cell.
        at: Box<Place>,
        /// The cell as written.
        text: String,
        /// Unit of the column.
        unit: &'static str,
        /// Cells that are no numbers.
        bad: u64,
        /// Cells that are not empty.
        cells: u64,
        /// What to do.
        mend: &'static str,
    },
    /// A mapped column holds no number at all.
    #[error(
        "{at}: no number in {rows} rows, although it is mapped as {role}; map another column or remove it from the layout"
    )]
    NoValues {
        /// The column, at the first row.
        at: Box<Place>,
        /// Its role.
        role: Role,
        /// Rows looked at.
        rows: u64,
    },
    /// Too many values are physically impossible: the unit is likely wrong.
    #[error(
        "{at}: {role} of {} is not possible ({bad} of {cells} values are not); expected {low} to {}. {mend}", measure(&value.to_string(), unit), measure(high, unit))]
    Implausible {
        /// The first such cell.
        at: Box<Place>,
        /// Its role.
        role: Role,
        /// The value in the unit of the column.
        value: f64,
        /// Unit of the column.
        unit: &'static str,
        /// Values out of range.
        bad: u64,
        /// Values in all.
        cells: u64,
        /// Smallest possible value in the unit of the column.
        low: String,
        /// Largest possible value in the unit of the column.
        high: String,
        /// What to do.
        mend: String,
    },
    /// The values stay too small to be what the role says: the unit is likely wrong.
    #[error(
        "{at}: {role} stays at or below {} in 99 of 100 rows; expected a log to reach {}. {mend}", measure(&value.to_string(), unit), measure(reaches, unit))]
    TooSmall {
        /// The column, at the first row.
        at: Box<Place>,
        /// Its role.
        role: Role,
        /// 99 % point of the size of the values, in the unit of the column.
        value: f64,
        /// Unit of the column.
        unit: &'static str,
        /// What a log reaches, in the unit of the column.
        reaches: String,
        /// What to do.
        mend: String,
    },
    /// Most rows share their time stamp with another.
    #[error(
        "{at}: the clock is coarser than the rows: {repeated} of {rows} rows repeat a time stamp (first \"{text}\"). Export a finer clock, or leave time out and state `sample_rate_hz`"
    )]
    CoarseClock {
        /// The first repeated stamp.
        at: Box<Place>,
        /// The stamp.
        text: String,
        /// Rows that repeat a stamp.
        repeated: u64,
        /// Rows in all.
        rows: u64,
    },
    /// A quotation mark was opened and not closed.
    #[error(
        "{file}:{line}: a quotation mark is opened here and the cell runs over the end of the line; close it or remove it"
    )]
    OpenQuote {
        /// Name of the log.
        file: String,
        /// Line of the quotation mark.
        line: u64,
    },
}

fn list(names: &[String]) -> String {
    if names.is_empty() {
        return "(none)".into();
    }
    let mut text = String::new();
    for (i, n) in names.iter().take(LISTED).enumerate() {
        if i > 0 {
            text.push_str(", ");
        }
        text.push('"');
        text.push_str(n);
        text.push('"');
    }
    if names.len() > LISTED {
        text.push_str(&format!(" and {} more", names.len() - LISTED));
    }
    text
}

/// Names that a message lists; more of them hide what it says.
const LISTED: usize = 12;

fn numbers(columns: &[usize]) -> String {
    columns.iter().map(usize::to_string).collect::<Vec<_>>().join(" and ")
}

fn measure(number: &str, unit: &str) -> String {
    if unit == "1" { number.to_owned() } else { format!("{number} {unit}") }
}

fn did_you_mean(nearest: &Option<String>) -> String {
    nearest.as_ref().map_or_else(String::new, |n| format!(" (did you mean \"{n}\"?)"))
}

fn in_unit(unit: &str) -> String {
    if unit.is_empty() || unit == "1" { String::new() } else { format!(" in {unit}") }
}

fn mend_duplicate(names: &[String]) -> &'static str {
    if names.windows(2).all(|w| matches!(w, [a, b] if a == b)) {
        "rename one of them in the log's header"
    } else {
        "write the whole name in the layout"
    }
}
