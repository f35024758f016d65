//! Conformance kit for fairpull plug-ins: one named test per promise.
