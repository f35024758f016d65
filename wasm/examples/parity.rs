//! Random inputs and what they give natively, a line of JSON each, for comparison with the browser module.
//!
//! `factor` and `crank` lines hold columns as the hexadecimal bytes of little-endian `f64`; `ask` lines hold the texts of
//! question and answer.

use fairpull_wasm::{answer, cranks, factors};
use std::fmt::Write as _;
use std::io::Write as _;

/// SplitMix64 (Steele, Lea and Flood, OOPSLA 2014): seeded, and the same everywhere.
struct Draws(u64);

impl Draws {
    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * ((self.bits() >> 11) as f64 / (1_u64 << 53) as f64)
    }

    fn column(&mut self, n: usize, low: f64, high: f64) -> Vec<f64> {
        (0..n).map(|_| self.between(low, high)).collect()
    }

    fn one_of<'a>(&mut self, words: &[&'a str]) -> &'a str {
        let n = self.bits() as usize % words.len();
        words.get(n).copied().unwrap_or("")
    }
}

fn hex(column: &[f64]) -> String {
    let mut out = String::with_capacity(16 * column.len());
    for byte in column.iter().flat_map(|x| x.to_le_bytes()) {
        let _ = write!(out, "{byte:02x}");
    }
    out
}

fn main() -> std::io::Result<()> {
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    let mut draws = Draws(20_260_511);
    let d = &mut draws;
    let catalogue = fairpull::builtin();
    for standard in catalogue.standards() {
        let id = standard.card().id;
        for ignition in ["spark", "compression"] {
            for charging in ["none", "supercharged", "turbocharged"] {
                let engine = serde_json::json!({
                    "ignition": ignition,
                    "charging": charging,
                    "charge_cooling": if charging == "none" { "none" } else { d.one_of(&["none", "air", "liquid"]) },
                    "fuel_per_stroke": format!("{:.3}mg/L", d.between(20.0, 90.0)),
                    "charge_pressure_ratio": if charging == "none" { 1.0 } else { d.between(1.1, 3.2) },
                    "mechanical_efficiency": format!("{:.2}%", d.between(70.0, 95.0)),
                    "ambient_compensated": charging != "none" && d.bits().is_multiple_of(4),
                })
                .to_string();
                let (p, v) = (d.column(700, 60.0, 112.0), d.column(700, 0.0, 6.0));
                let t = d.column(700, -40.0, 70.0);
                let y = factors(id, &engine, &p, &v, &t).map_err(|f| std::io::Error::other(f.json()))?;
                let columns = [&p, &v, &t].map(|c| hex(c));
                let line = serde_json::json!({ "kind": "factor", "id": id, "with": engine, "in": columns, "out": hex(&y) });
                writeln!(out, "{line}")?;
            }
        }
    }
    for model in catalogue.losses() {
        let id = model.card().id;
        for _ in 0..12 {
            let line = serde_json::json!({
                "coast_down": [d.between(50.0, 300.0), d.between(0.0, 6.0), d.between(0.1, 0.9)],
                "load_share": [d.between(0.005, 0.05), 0.002],
                "constant_drag_w": [d.between(500.0, 9000.0), 200.0],
                "rotating_mass_kg": d.between(30.0, 150.0),
                "acceleration_m_s2": d.between(0.3, 4.0),
                "gearbox": d.one_of(&["manual", "planetary", "converter"]),
                "direct_gear": d.bits().is_multiple_of(2),
                "max_input_torque_nm": d.between(200.0, 900.0),
                "driven_wheels": if d.bits().is_multiple_of(3) { 4 } else { 2 },
                "elements": [d.one_of(&["spur-gear", "helical-gear"]), d.one_of(&["bevel-gear", "vee-belt"])],
            })
            .to_string();
            let w = d.column(500, 1e3, 5e5);
            let (v, n) = (d.column(500, 5.0, 90.0), d.column(500, 900.0, 9000.0));
            let y = cranks(id, &line, &w, &v, &n).map_err(|f| std::io::Error::other(f.json()))?;
            let columns = [&w, &v, &n].map(|c| hex(c));
            let line =
                serde_json::json!({ "kind": "crank", "id": id, "with": line, "in": columns, "out": hex(&y) });
            writeln!(out, "{line}")?;
        }
    }
    for (name, question) in questions(d) {
        let text = question.to_string();
        let (ok, said) = match answer(name, &text) {
            Ok(a) => (true, a),
            Err(f) => (false, f.json()),
        };
        let line =
            serde_json::json!({ "kind": "ask", "name": name, "question": text, "ok": ok, "answer": said });
        writeln!(out, "{line}")?;
    }
    out.flush()
}

const FUELS: [&str; 6] =
    ["en-228-95", "RON 98 MON 88", "AKI 93", "RON 102 S 13", "70% en-228-95 + 30% ethanol", "E85"];

/// Whole questions, the knock models among them.
fn questions(d: &mut Draws) -> Vec<(&'static str, serde_json::Value)> {
    let mut all = Vec::new();
    for _ in 0..1000 {
        let mut q = serde_json::json!({
            "fuels": FUELS,
            "requirement": format!("{:.2} ± {:.2}", d.between(85.0, 105.0), d.between(0.2, 3.0)),
            "k": format!("{:.3} ± 0.2", d.between(-1.2, 0.8)),
        });
        if d.bits().is_multiple_of(2) {
            q["changes"] = serde_json::json!({
                "spark_advance": format!("{:.2}deg", d.between(-6.0, 6.0)),
                "intake_temperature": format!("{:.2}K", d.between(-40.0, 40.0)),
                "intake_pressure": format!("{:.2}kPa", d.between(-50.0, 80.0)),
                "compression_ratio": d.between(-1.0, 1.0),
            });
        }
        all.push(("knock", q));
    }
    for k in 0..400 {
        let mut q = serde_json::json!({
            "fuels": FUELS,
            "requirement": format!("{:.2} ± {:.2}", d.between(85.0, 105.0), d.between(0.2, 3.0)),
            "k": "0 ± 0.2",
        });
        if k % 2 == 0 {
            q["model"] = "declared-slopes-weather".into();
            q["changes"] = serde_json::json!({
                "intake_temperature": format!("{:.2}K", d.between(-40.0, 40.0)),
                "altitude": format!("{:.0}m", d.between(0.0, 2500.0)),
            });
        } else {
            let mut slope = |low, high| serde_json::json!({ "value": d.between(low, high), "uncertainty": d.between(0.01, 0.1) });
            q["slopes"] = serde_json::json!({
                "spark_per_degree": slope(0.3, 1.2),
                "intake_temperature_per_k": slope(0.05, 0.2),
                "intake_pressure_per_kpa": slope(0.05, 0.3),
            });
            q["changes"] = serde_json::json!({
                "spark_advance": format!("{:.2}deg", d.between(-6.0, 6.0)),
                "intake_temperature": format!("{:.2}K", d.between(-40.0, 40.0)),
                "intake_pressure": format!("{:.2}kPa", d.between(-50.0, 80.0)),
            });
        }
        all.push(("knock", q));
    }
    for _ in 0..10 {
        let q = serde_json::json!({
            "fuels": ["en-228-95", "RON 98 MON 88"],
            "cycle": {
                "bore": format!("{:.1}mm", d.between(70.0, 100.0)),
                "stroke": format!("{:.1}mm", d.between(70.0, 100.0)),
                "rod": format!("{:.1}mm", d.between(135.0, 165.0)),
                "compression_ratio": d.between(8.0, 13.0),
                "engine_speed": format!("{:.0}rpm", d.between(1500.0, 6500.0)),
                "pressure": format!("{:.1}kPa(a)", d.between(80.0, 240.0)),
                "temperature": format!("{:.1}C", d.between(40.0, 140.0)),
                "intake_closing": format!("{:.1}deg", d.between(-150.0, -110.0)),
                "burn_start": format!("{:.1}deg", d.between(-25.0, 5.0)),
                "burn_duration": format!("{:.1}deg", d.between(35.0, 75.0)),
                "air_fuel_ratio": d.between(11.5, 15.0),
            },
        });
        all.push(("knock", q));
    }
    for _ in 0..16 {
        let q = serde_json::json!({
            "figure": format!("{:.2}kW", d.between(40.0, 600.0)),
            "from": d.one_of(&["din-70020", "sae-j1349", "iso-1585", "observed"]),
            "site": d.one_of(&["crank", "wheel"]),
            "engine_speed": format!("{:.0}rpm", d.between(3000.0, 8000.0)),
            "to": d.one_of(&["un-r85", "sae-j607", "jis-d-1001", "iso-3046"]),
            "air": { "temperature": format!("{:.2}C", d.between(0.0, 38.0)) },
        });
        all.push(("restate", q));
    }
    for _ in 0..400 {
        let q = serde_json::json!({
            "pressure": format!("{:.3}hPa", d.between(850.0, 1040.0)),
            "temperature": format!("{:.3}C", d.between(-20.0, 45.0)),
            "humidity": format!("{:.2}%", d.between(0.0, 100.0)),
        });
        all.push(("factors", serde_json::json!({ "air": q.clone() })));
        all.push(("air", q));
        let quantity =
            format!("{}{}", d.between(0.001, 9999.0), d.one_of(&["kW", "PS", "Nm", "inHg", "F", "mph"]));
        let unit = d.one_of(&["W", "hp", "lbf·ft", "hPa", "°C", "m/s"]);
        all.push(("convert", serde_json::json!({ "quantity": quantity, "unit": unit })));
    }
    for _ in 0..8 {
        all.push((
            "road",
            serde_json::json!({ "car": {
                "mass": format!("{:.0}kg", d.between(900.0, 2400.0)),
                "power": format!("{:.1}kW", d.between(120.0, 500.0)),
            }, "measures": ["100-200km/h"] }),
        ));
        all.push((
            "vet",
            serde_json::json!({ "set": {
                "engine.power": format!("{:.0}PS", d.between(80.0, 900.0)),
                "engine.power_speed": format!("{:.0}rpm", d.between(4000.0, 8500.0)),
                "engine.torque": format!("{:.0}Nm", d.between(100.0, 900.0)),
                "engine.displacement": format!("{:.0}cm3", d.between(900.0, 6000.0)),
            } }),
        ));
    }
    all
}
