//! Fuel grades, blending and knock-margin models.
