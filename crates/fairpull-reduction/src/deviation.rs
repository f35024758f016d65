//! What the calibration values of a rig may be off by.

/// Calibration values that all pulls of a rig share, as deviations from what the job declares.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Deviation {
    /// Relative: roller inertia, force reading, roller radius, engine inertia, tyre radius.
    pub inertia: f64,
    pub force: f64,
    pub radius: f64,
    pub engine_inertia: f64,
    pub tyre: f64,
    /// Absolute: load share, slip per newton, Pa, K, relative humidity.
    pub share: f64,
    pub slip: f64,
    pub pressure: f64,
    pub temperature: f64,
    pub humidity: f64,
    /// Delay of the force channel, s.
    pub delay: f64,
    /// In standard uncertainties of the loss model's own answer: everywhere, and falling to nothing in the middle of the
    /// pull's speeds with the other sign below.
    pub loss: [f64; 2],
    /// In standard deviations of the shape that a coast-down leaves open: slope, curvature.
    pub drag: [f64; 2],
}

impl Deviation {
    /// Whether it is the air alone that differs: the engine then gave what it gave.
    pub(crate) fn of_air_alone(&self) -> bool {
        let air = Self {
            pressure: self.pressure,
            temperature: self.temperature,
            humidity: self.humidity,
            ..Self::default()
        };
        *self == air
    }

    /// Whether it is the drag or what the loss model gives that differs: the rig then reads what it read.
    pub(crate) fn of_losses_alone(&self) -> bool {
        *self == Self { share: self.share, loss: self.loss, drag: self.drag, ..Self::default() }
    }

    pub(crate) fn of_air(&self) -> bool {
        self.pressure != 0.0 || self.temperature != 0.0 || self.humidity != 0.0
    }
}
