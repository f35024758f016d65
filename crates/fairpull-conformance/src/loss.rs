//! Checks for loss models. Each is a promise of [`LossModel`].
