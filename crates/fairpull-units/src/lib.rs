//! Exact trade units on uom: reading and printing quantities such as 221kW or 29.92inHg.
