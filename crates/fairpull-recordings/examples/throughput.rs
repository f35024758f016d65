//! How fast a large log is read: `cargo run --release -p fairpull-recordings --example throughput -- 200`
//! makes an invented log of so many megabytes in memory and reads four of its ten columns.

use std::fmt::Write as _;

use fairpull_recordings::{Column, Layout, Role, read};

fn main() {
    let megabytes: usize = std::env::args().nth(1).and_then(|a| a.parse().ok()).unwrap_or(20);
    for comma in [false, true] {
        let mut log = String::from("t [s];n [rpm];v [km/h];F [N];a;b;c;d;e;f\n");
        let mut row = String::new();
        let mut i = 0_u32;
        while log.len() < megabytes * 1_000_000 {
            let n = 1500 + i % 5000;
            row.clear();
            let t = f64::from(i) / 100.0;
            let v = f64::from(n) * 0.031;
            let written = writeln!(row, "{t:.2};{n};{v:.2};1500.5;0.998;101.3;34.25;12.125;650.0;4");
            if written.is_err() {
                return;
            }
            log += &if comma { row.replace('.', ",") } else { row.clone() };
            i += 1;
        }
        let layout = Layout::of(vec![
            Column::new(Role::Time, "t"),
            Column::new(Role::EngineSpeed, "n"),
            Column::new(Role::RollerSpeed, "v"),
            Column::new(Role::BrakeForce, "F"),
        ]);
        let start = std::time::Instant::now();
        match read(log.as_bytes(), "large.csv", &layout) {
            Ok(r) => {
                let s = start.elapsed().as_secs_f64();
                let mb = log.len() as f64 / 1e6;
                println!(
                    "decimal {}: {mb:.0} MB, {} rows, {s:.2} s, {:.0} MB/s",
                    r.format.decimal.words(),
                    r.rows,
                    mb / s
                );
            }
            Err(e) => println!("{e}"),
        }
    }
}
