//! The result model and its renderings: HTML, SVG, JSON, CSV.
