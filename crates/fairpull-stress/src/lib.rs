//! What the power costs the engine: back pressure, charge cooling, flow, mean pressures.
