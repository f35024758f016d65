//! GPX: all track points in order.

use crate::{Row, TrackError};
use time::OffsetDateTime;

pub(crate) fn rows(text: &str, file: &str) -> Result<Vec<Row>, TrackError> {
    let data = gpx::read(text.as_bytes())
        .map_err(|e| TrackError::Gpx { file: file.into(), problem: e.to_string() })?;
    let mut out = Vec::new();
    for point in data.tracks.iter().flat_map(|t| &t.segments).flat_map(|s| &s.points) {
        let p = point.point();
        out.push(Row {
            time: point.time.map(|t| OffsetDateTime::from(t).unix_timestamp_nanos() as f64 * 1e-9),
            speed: point.speed,
            position: Some((p.y(), p.x())),
            height: point.elevation,
        });
    }
    Ok(out)
}
