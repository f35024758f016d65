//! Loss models between the wheels and the crankshaft.
