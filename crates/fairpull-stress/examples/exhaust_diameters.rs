//! Draws exhaust loss over diameter into docs/stress-diameters.svg and prints the table of docs/stress.md:
//! `cargo run --example exhaust_diameters`.

use std::fmt::Write;

use fairpull_core::{AbsolutePressure, Refusal, Temperature};
use fairpull_stress::friction::Viscosity;
use fairpull_stress::{AbsoluteReading, Figure, Known, Pipe, PipeLoss, TemperatureReading, pipe_loss};

fn pipe(flow: f64, kelvin: f64) -> Result<Pipe, Refusal> {
    Ok(Pipe {
        mass_flow: Figure::new(flow, 0.02 * flow),
        temperature: TemperatureReading::new(Temperature::from_kelvin(kelvin), 15.0),
        known: Known::Outlet(AbsoluteReading::new(AbsolutePressure::from_kilopascals(101.0), 0.2)?),
        diameter: 0.0859,
        length: 3.0,
        roughness: 5e-5,
        loss_coefficients: 1.0,
        gamma: 1.33,
        viscosity: Viscosity::DiluteGas,
    })
}

/// Outside diameter in inches to inside diameter in metres, 1.5 mm wall.
fn inside(inch: f64) -> f64 {
    inch * 0.0254 - 0.003
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let flows = [(0.345, 900.0, "#1b6ca8"), (0.55, 1100.0, "#c8553d")];
    println!("| kg/s, K | tube, inch | Mach at the outlet | incompressible, kPa | adiabatic, kPa |");
    println!("|---|---|---|---|---|");
    let mut out = String::from(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 640 360\" font-family=\"sans-serif\" font-size=\"13\" \
         role=\"img\" aria-label=\"Loss of an exhaust pipe over its diameter\">\n\
         <rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n",
    );
    let x = |inch: f64| 60.0 + 540.0 * (inch - 2.5) / 2.5;
    let y = |kpa: f64| 310.0 - 280.0 * kpa.min(50.0) / 50.0;
    for kpa in [0.0, 10.0, 20.0, 30.0, 40.0, 50.0] {
        let at = y(kpa);
        let _ = writeln!(
            out,
            "<line x1=\"60\" x2=\"600\" y1=\"{at}\" y2=\"{at}\" stroke=\"#ddd\"/>\
             <text x=\"52\" y=\"{}\" text-anchor=\"end\">{kpa:.0}</text>",
            at + 4.0
        );
    }
    for half in 5..=10 {
        let inch = f64::from(half) / 2.0;
        let _ = writeln!(out, "<text x=\"{}\" y=\"330\" text-anchor=\"middle\">{inch}</text>", x(inch));
    }
    out.push_str("<text x=\"330\" y=\"352\" text-anchor=\"middle\">tube outside diameter, inch</text>\n");
    out.push_str("<text x=\"64\" y=\"22\">loss of 3 m and four bends, kPa (adiabatic)</text>\n");
    for (k, (flow, kelvin, colour)) in flows.into_iter().enumerate() {
        let run = pipe(flow, kelvin)?;
        let at = |inch: f64| pipe_loss(&Pipe { diameter: inside(inch), ..run });
        let mut line = String::new();
        for step in 0..=50 {
            let inch = 2.5 + 0.05 * f64::from(step);
            // a diameter that chokes has no point
            if let Some(loss) = at(inch).ok().and_then(|l| l.adiabatic) {
                let kpa = loss.value / 1e3;
                if kpa <= 50.0 {
                    let _ = write!(line, "{:.1},{:.1} ", x(inch), y(kpa));
                }
            }
        }
        let _ = writeln!(
            out,
            "<polyline points=\"{}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"2\"/>\
             <text x=\"420\" y=\"{}\" fill=\"{colour}\">{flow} kg/s at {kelvin} K</text>",
            line.trim_end(),
            60.0 + 20.0 * k as f64
        );
        for inch in [2.5, 3.0, 3.5, 4.0] {
            print_row(flow, kelvin, inch, at(inch));
        }
    }
    out.push_str("</svg>\n");
    std::fs::write(concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/stress-diameters.svg"), out)?;
    Ok(())
}

fn print_row(flow: f64, kelvin: f64, inch: f64, loss: Result<PipeLoss, Refusal>) {
    match loss {
        Ok(l) => {
            let kpa = |f: Figure| format!("{:.2} ± {:.2}", f.value / 1e3, 1.96 * f.uncertainty / 1e3);
            let adiabatic = l.adiabatic.map_or_else(|| "chokes".to_string(), kpa);
            println!(
                "| {flow}, {kelvin} | {inch} | {:.3} | {} | {adiabatic} |",
                l.mach.value,
                kpa(l.incompressible)
            );
        }
        Err(e) => println!("| {flow}, {kelvin} | {inch} | {e} | | |"),
    }
}
