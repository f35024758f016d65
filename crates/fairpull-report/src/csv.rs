//! Curves as comma-separated values: RFC 4180, decimal point, every digit.

use crate::model::{Interval, ResultModel};

const CURVES: &str = "state,engine_speed_rpm,crank_power_kw,crank_power_kw_lo95,crank_power_kw_hi95,\
crank_power_band_kw_lo95,crank_power_band_kw_hi95,crank_torque_nm,crank_torque_nm_lo95,crank_torque_nm_hi95,\
wheel_power_kw,wheel_power_kw_lo95,wheel_power_kw_hi95,pulls";
const GAINS: &str = "from,to,engine_speed_rpm,gain_percent,gain_percent_lo95,gain_percent_hi95,\
gain_band_percent_lo95,gain_band_percent_hi95";

/// Every grid point of every state. Power in kW, torque in N·m, engine speed in 1/min; an empty field where there
/// is no number. Wheel power is as observed, crank figures are corrected.
#[must_use]
pub fn curves_csv(result: &ResultModel) -> String {
    let mut out = String::from(CURVES);
    out.push_str("\r\n");
    for s in &result.states {
        for c in &s.curve {
            let mut row = vec![text(&s.name), number(c.engine_speed_rpm)];
            row.extend(three(c.crank_power_kw));
            row.extend([number(c.crank_power_band_kw.lo95), number(c.crank_power_band_kw.hi95)]);
            row.extend(three(c.crank_torque_nm));
            row.extend(three(c.wheel_power_kw));
            row.push(c.pulls.to_string());
            push(&mut out, &row);
        }
    }
    out
}

/// Every grid point of every comparison, in percent.
#[must_use]
pub fn gains_csv(result: &ResultModel) -> String {
    let mut out = String::from(GAINS);
    out.push_str("\r\n");
    for c in &result.comparisons {
        for g in &c.curve {
            let mut row = vec![text(&c.from), text(&c.to), number(g.engine_speed_rpm)];
            row.extend(three(g.gain_percent));
            row.extend([number(g.gain_band_percent.lo95), number(g.gain_band_percent.hi95)]);
            push(&mut out, &row);
        }
    }
    out
}

fn push(out: &mut String, row: &[String]) {
    out.push_str(&row.join(","));
    out.push_str("\r\n");
}

fn three(i: Interval) -> [String; 3] {
    [i.value, i.lo95, i.hi95].map(number)
}

fn number(v: f64) -> String {
    if v.is_finite() { v.to_string() } else { String::new() }
}

/// A name as a field: quoted where needed; one that a spreadsheet would run as a formula gets an apostrophe.
fn text(name: &str) -> String {
    let guarded =
        if name.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{name}") } else { name.to_owned() };
    if guarded.contains([',', '"', '\n', '\r']) || guarded.starts_with(' ') || guarded.ends_with(' ') {
        format!("\"{}\"", guarded.replace('"', "\"\""))
    } else {
        guarded
    }
}

#[cfg(test)]
mod tests {
    use super::text;

    // RFC 4180, section 2, rules 5 to 7.
    #[test]
    fn names_stay_one_harmless_field() {
        assert_eq!(text("as found"), "as found");
        assert_eq!(text("5\" pipe, long"), "\"5\"\" pipe, long\"");
        assert_eq!(text("=cmd()"), "'=cmd()");
    }
}
