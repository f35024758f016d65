//! Draws the model's slopes beside the published ones into docs/knock-slopes.svg and prints the table of
//! docs/knock.md: `cargo run --example knock_slopes`.

use std::fmt::Write;

use fairpull_core::{AbsolutePressure, CycleState, Refusal, Temperature};
use fairpull_fuels::{Choices, Cycle, Slope, Slopes, mixed_temperature, residual_fraction, sensitivities};

/// One line of the table: step, published, model for both cases, octane numbers.
struct Row {
    step: &'static str,
    published: Slope,
    model: [f64; 2],
}

/// Both reference cycles, with intake and exhaust pressure (kPa) for the residual gas.
fn cases() -> [(CycleState, [f64; 2]); 2] {
    [
        (
            CycleState::new(
                [0.086, 0.086, 0.1435],
                11.0,
                2500.0,
                [1.15e5, 375.0, -130.0],
                [-14.0, 46.0],
                13.5,
            ),
            [100.0, 105.0],
        ),
        (
            CycleState::new([0.0825, 0.0928, 0.144], 9.6, 4000.0, [2.2e5, 370.0, -140.0], [-2.0, 50.0], 12.5),
            [210.0, 231.0],
        ),
    ]
}

/// 30 kPa more exhaust pressure through residual fraction and temperature, at a stated valve overlap factor.
fn back_pressure(state: &CycleState, [intake, exhaust]: [f64; 2], overlap: f64) -> Result<f64, Refusal> {
    let kpa = AbsolutePressure::from_kilopascals;
    let residual = Temperature::from_kelvin(1100.0);
    let fraction = |e: f64| {
        residual_fraction(kpa(intake), kpa(e), state.speed_rpm, overlap, 1.1, state.compression_ratio)
    };
    let (x0, x1) = (fraction(exhaust)?, fraction(exhaust + 30.0)?);
    // charge temperature that gives the state's temperature at valve closing
    let charge = (state.ivc_temperature - x0 * 1100.0) / (1.0 - x0);
    let at = |x: f64| {
        let mut s = *state;
        s.residual_fraction = x;
        s.ivc_temperature = mixed_temperature(Temperature::from_kelvin(charge), residual, x)?.kelvin();
        Cycle::new(&s, &Choices::REFERENCE)?.required_octane()
    };
    Ok(at(x1)? - at(x0)?)
}

fn rows() -> Result<Vec<Row>, Refusal> {
    let [a, b] = cases();
    let of = |s: &CycleState| sensitivities(s, &Choices::REFERENCE);
    let (sa, sb) = (of(&a.0)?, of(&b.0)?);
    let russ = Slopes::RUSS;
    let times = |s: Option<Slope>, by: f64| {
        let s = s.unwrap_or(Slope { value: f64::NAN, uncertainty: f64::NAN });
        Slope { value: s.value * by, uncertainty: s.uncertainty * by }
    };
    Ok(vec![
        Row {
            step: "spark, 1 degree earlier",
            published: times(russ.spark_per_degree, 1.0),
            model: [sa.spark_1_degree, sb.spark_1_degree],
        },
        Row {
            step: "temperature, +10 K",
            published: times(russ.intake_temperature_per_k, 10.0),
            model: [sa.temperature_10_k, sb.temperature_10_k],
        },
        Row {
            step: "intake pressure, +10 kPa",
            published: times(russ.intake_pressure_per_kpa, 10.0),
            model: [sa.pressure_10_kpa, sb.pressure_10_kpa],
        },
        Row {
            step: "compression ratio, +1",
            published: times(russ.compression_ratio_per_unit, 1.0),
            model: [sa.compression_ratio_1, sb.compression_ratio_1],
        },
        Row {
            step: "back pressure, +30 kPa, overlap factor 0",
            published: times(russ.exhaust_pressure_per_kpa, 30.0),
            model: [back_pressure(&a.0, a.1, 0.0)?, back_pressure(&b.0, b.1, 0.0)?],
        },
        Row {
            step: "back pressure, +30 kPa, overlap factor 1",
            published: times(russ.exhaust_pressure_per_kpa, 30.0),
            model: [back_pressure(&a.0, a.1, 1.0)?, back_pressure(&b.0, b.1, 1.0)?],
        },
    ])
}

fn table(rows: &[Row]) -> String {
    let mut out =
        String::from("| step | published (Russ, SAE 960497) | aspirated | ratio | boosted | ratio |\n");
    out.push_str("|---|---|---|---|---|---|\n");
    for r in rows {
        let [a, b] = r.model;
        let p = r.published.value;
        let _ = writeln!(out, "| {} | {p:.2} | {a:.2} | {:.2} | {b:.2} | {:.2} |", r.step, a / p, b / p);
    }
    out
}

/// Bars of the ratio model over published on a logarithmic axis from 0.25 to 4.
fn svg(rows: &[Row]) -> String {
    let x = |ratio: f64| 300.0 + 360.0 * (libm::log2(ratio.clamp(0.25, 4.0)) + 2.0) / 4.0;
    let height = 60 + 44 * rows.len();
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 700 {height}\" font-family=\"sans-serif\" \
         font-size=\"13\" role=\"img\" aria-label=\"Slopes of the end-gas model over the published ones\">\n"
    );
    out.push_str("<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n");
    for (ratio, text) in [(0.25, "1/4"), (0.5, "1/2"), (1.0, "as published"), (2.0, "2"), (4.0, "4")] {
        let at = x(ratio);
        let wide = if ratio == 1.0 { 2.0 } else { 0.5 };
        let _ = writeln!(
            out,
            "<line x1=\"{at}\" x2=\"{at}\" y1=\"30\" y2=\"{}\" stroke=\"#888\" stroke-width=\"{wide}\"/>\
             <text x=\"{at}\" y=\"20\" text-anchor=\"middle\">{text}</text>",
            height - 24
        );
    }
    for (i, r) in rows.iter().enumerate() {
        let top = 40.0 + 44.0 * i as f64;
        let _ = writeln!(out, "<text x=\"290\" y=\"{}\" text-anchor=\"end\">{}</text>", top + 18.0, r.step);
        for (j, (value, colour)) in r.model.iter().zip(["#1b6ca8", "#c8553d"]).enumerate() {
            let (from, to) = (x(1.0), x(value / r.published.value));
            let y = top + 16.0 * j as f64;
            let _ = writeln!(
                out,
                "<rect x=\"{:.1}\" y=\"{y}\" width=\"{:.1}\" height=\"12\" fill=\"{colour}\"/>",
                libm::fmin(from, to),
                libm::fabs(to - from)
            );
        }
    }
    let _ = writeln!(
        out,
        "<text x=\"300\" y=\"{}\"><tspan fill=\"#1b6ca8\">aspirated, 2500 1/min</tspan> \
         <tspan fill=\"#c8553d\">boosted, 4000 1/min</tspan></text>\n</svg>",
        height - 6
    );
    out
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let rows = rows()?;
    println!("{}", table(&rows));
    std::fs::write(concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/knock-slopes.svg"), svg(&rows))?;
    Ok(())
}
