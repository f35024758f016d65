//! From a recording to a speed log.

use crate::error::RoadError;
use crate::log::SpeedLog;
use fairpull_recordings::{Recording, Role};

impl SpeedLog {
    /// Speed and height channels of a recording. Rows without speed are left out, and counted in the remarks that come
    /// with the log.
    ///
    /// # Errors
    /// [`RoadError::NoAnswer`] when the recording has no channel of road speed.
    pub fn from_recording(recording: &Recording) -> Result<(Self, Vec<String>), RoadError> {
        let Some(speed) = recording.channel(Role::RoadSpeed) else {
            return Err(RoadError::NoAnswer {
                what: format!("{}: no column is mapped to road speed", recording.file),
                mend: "map the column of satellite or wheel speed to road_speed",
            });
        };
        let height = recording.channel(Role::Height);
        let mut log = Self::default();
        for (i, (t, v)) in recording.time.iter().zip(&speed.values).enumerate() {
            if v.is_nan() {
                continue;
            }
            log.time_s.push(*t);
            log.speed_kmh.push(v * 3.6);
            if let Some(h) = height {
                log.height_m.push(h.values.get(i).copied().unwrap_or(f64::NAN));
            }
        }
        let mut remarks = Vec::new();
        let gone = recording.time.len() - log.time_s.len();
        if gone > 0 {
            remarks.push(format!("{}: {gone} rows without speed were left out", recording.file));
        }
        Ok((log, remarks))
    }
}
