//! The table as a Parquet file: one row a state.

use std::fs::File;
use std::path::Path;
use std::sync::Arc;

use parquet::basic::{Compression, ConvertedType, LogicalType, Repetition, TimeUnit, Type as Physical};
use parquet::data_type::{BoolType, ByteArray, ByteArrayType, DataType, DoubleType, Int32Type, Int64Type};
use parquet::errors::ParquetError;
use parquet::file::metadata::KeyValue;
use parquet::file::properties::WriterProperties;
use parquet::file::writer::{SerializedFileWriter, SerializedRowGroupWriter};
use parquet::schema::types::Type;

use crate::columns::{COLUMNS, Column, Holds, Row};
use crate::value::Value;
use crate::{ArchiveError, Folder, Job, TABLE};

/// Rows of one group: what is held in memory at most.
pub const GROUP: usize = 4096;

/// Writes the table of the jobs that are finished, in their order; `jobs` are the names sorted. Gives the rows.
///
/// # Errors
/// [`ArchiveError`] when the mark of a job cannot be read or the disk does not take the table.
pub fn write<'a>(folder: &Folder, jobs: impl Iterator<Item = &'a Job>) -> Result<usize, ArchiveError> {
    let mut rows = 0;
    folder.write(TABLE, |file, path| {
        let marks = jobs.map(|job| {
            folder.finished(job).map(|done| done.rows).ok_or_else(|| ArchiveError::Table {
                path: path.into(),
                why: format!("{}: the mark of this finished job cannot be read", folder.place(job).display()),
            })
        });
        rows = fill(file, path, marks)?;
        Ok(())
    })?;
    Ok(rows)
}

fn fill(
    file: &mut File,
    path: &Path,
    jobs: impl Iterator<Item = Result<Vec<Row>, ArchiveError>>,
) -> Result<usize, ArchiveError> {
    let cannot = |e: ParquetError| ArchiveError::Table { path: path.into(), why: e.to_string() };
    let about = COLUMNS.iter().map(|c| KeyValue::new(format!("column:{}", c.name), describe(c))).collect();
    let properties = WriterProperties::builder()
        .set_compression(Compression::UNCOMPRESSED)
        .set_created_by(concat!("fairpull ", env!("CARGO_PKG_VERSION")).into())
        .set_key_value_metadata(Some(about))
        .build();
    let schema = Arc::new(schema().map_err(cannot)?);
    let mut writer = SerializedFileWriter::new(file, schema, Arc::new(properties)).map_err(cannot)?;
    let mut waiting = Vec::new();
    let mut rows = 0;
    for job in jobs {
        waiting.extend(job?);
        if waiting.len() >= GROUP {
            rows += waiting.len();
            group(writer.next_row_group().map_err(cannot)?, &waiting).map_err(cannot)?;
            waiting.clear();
        }
    }
    if !waiting.is_empty() {
        rows += waiting.len();
        group(writer.next_row_group().map_err(cannot)?, &waiting).map_err(cannot)?;
    }
    writer.close().map_err(cannot)?;
    Ok(rows)
}

/// What the file says of a column.
fn describe(c: &Column) -> String {
    if c.unit.is_empty() { c.about.into() } else { format!("[{}] {}", c.unit, c.about) }
}

fn schema() -> Result<Type, ParquetError> {
    let fields = COLUMNS.iter().map(|c| {
        let (physical, logical) = match c.holds {
            Holds::Text => (Physical::BYTE_ARRAY, Some(LogicalType::String)),
            Holds::Number => (Physical::DOUBLE, None),
            Holds::Count => (Physical::INT32, None),
            Holds::Flag => (Physical::BOOLEAN, None),
            Holds::Time => (Physical::INT64, Some(LogicalType::timestamp(false, TimeUnit::MILLIS))),
        };
        let repetition = if c.optional { Repetition::OPTIONAL } else { Repetition::REQUIRED };
        Type::primitive_type_builder(c.name, physical)
            .with_repetition(repetition)
            .with_logical_type(logical)
            .with_converted_type(ConvertedType::NONE)
            .build()
            .map(Arc::new)
    });
    Type::group_type_builder("fairpull").with_fields(fields.collect::<Result<_, _>>()?).build()
}

fn group<W: std::io::Write + Send>(
    mut group: SerializedRowGroupWriter<'_, W>,
    rows: &[Row],
) -> Result<(), ParquetError> {
    let values: Vec<[Value<'_>; COLUMNS.len()]> = rows.iter().map(Row::values).collect();
    for (i, c) in COLUMNS.iter().enumerate() {
        let cells = || values.iter().map(|r| r[i]);
        match c.holds {
            Holds::Text => column::<ByteArrayType, _>(&mut group, c, cells(), |v| match v {
                Value::Text(t) => Some(ByteArray::from(t.as_bytes().to_vec())),
                _ => None,
            }),
            Holds::Number => column::<DoubleType, _>(&mut group, c, cells(), |v| match v {
                Value::Number(x) => Some(x),
                _ => None,
            }),
            Holds::Count => column::<Int32Type, _>(&mut group, c, cells(), |v| match v {
                Value::Count(n) => Some(n),
                _ => None,
            }),
            Holds::Flag => column::<BoolType, _>(&mut group, c, cells(), |v| match v {
                Value::Flag(b) => Some(b),
                _ => None,
            }),
            Holds::Time => column::<Int64Type, _>(&mut group, c, cells(), |v| match v {
                Value::Time(t) => Some(t),
                _ => None,
            }),
        }?;
    }
    group.close().map(drop)
}

fn column<'a, D: DataType, W: std::io::Write + Send>(
    group: &mut SerializedRowGroupWriter<'_, W>,
    c: &Column,
    cells: impl Iterator<Item = Value<'a>>,
    of: impl Fn(Value<'a>) -> Option<D::T>,
) -> Result<(), ParquetError> {
    let cells: Vec<Option<D::T>> = cells.map(of).collect();
    let levels: Vec<i16> = cells.iter().map(|v| i16::from(v.is_some())).collect();
    let there: Vec<D::T> = cells.into_iter().flatten().collect();
    let mut writer = group
        .next_column()?
        .ok_or_else(|| ParquetError::General(format!("column {} is not in the schema", c.name)))?;
    writer.typed::<D>().write_batch(&there, c.optional.then_some(&levels[..]), None)?;
    writer.close()
}
