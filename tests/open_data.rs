//! The road model against open tables of real cars. The tables are fetched by tests/reference/open_data.py (which names
//! their sources and terms) into the target folder; rows go by number. Without a network set FAIRPULL_OFFLINE=1: then
//! these checks are skipped and say so; otherwise a failed fetch is a failed test.
#![allow(clippy::panic, clippy::unwrap_used)]

use fairpull_road::*;
use fairpull_uncertainty::least_squares;
use std::path::PathBuf;
use std::process::Command;
use std::sync::OnceLock;

const HP: f64 = 0.745_699_871_582_270_22;
const LB: f64 = 0.453_592_37;

/// Folder of the fetched tables; none when offline was asked for.
fn tables() -> Option<&'static PathBuf> {
    static TABLES: OnceLock<Option<PathBuf>> = OnceLock::new();
    TABLES
        .get_or_init(|| {
            let out = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("open-data");
            if std::env::var("FAIRPULL_OFFLINE").is_ok_and(|v| v == "1") {
                eprintln!("FAIRPULL_OFFLINE=1: the open tables were NOT fetched and the road model was NOT checked against them");
                return None;
            }
            let script = concat!(env!("CARGO_MANIFEST_DIR"), "/reference/open_data.py");
            let got = Command::new("python3").arg(script).arg(&out).output();
            match got {
                Ok(o) if o.status.success() => Some(out),
                Ok(o) => panic!("open tables could not be fetched (FAIRPULL_OFFLINE=1 skips them):\n{}", String::from_utf8_lossy(&o.stderr)),
                Err(e) => panic!("python3 could not be run to fetch the open tables (FAIRPULL_OFFLINE=1 skips them): {e}"),
            }
        })
        .as_ref()
}

fn table(name: &str) -> Option<Vec<Vec<f64>>> {
    let text = std::fs::read_to_string(tables()?.join(name)).unwrap();
    Some(
        text.lines().skip(1).map(|l| l.split(',').map(|x| x.parse().unwrap_or(f64::NAN)).collect()).collect(),
    )
}

/// A car of the tables: what a brochure says.
struct Rated {
    hp: f64,
    lb: f64,
    in3: f64,
}

/// 0 to 60 mph by the road model: 300 lb of people, Cd·A 0.85 m², Crr 0.014, λ 1.10, constant wheel power.
fn road_time(car: &Rated, efficiency: f64) -> f64 {
    let mass_kg = (car.lb + 300.0) * LB;
    let model = Car {
        mass_kg,
        rotating: Rotating::MassFactor(1.10),
        load: RoadLoad::from_drag_area(mass_kg, 0.85, 0.014, 1.2).unwrap(),
        traction: None,
        drive: Drive::Constant { wheel_power_kw: efficiency * car.hp * HP },
    };
    time(&model, Conditions::still(1.2), Measure::mph(0.0, 60.0, false)).unwrap().time_s
}

/// The global model: t = t0 + road time with the effective power η·P·(V/P)^c; three numbers for all cars. V/P is
/// displacement per power over 1.9 in³/hp: an engine that is large for its power pulls well below its peak.
fn global(p: &[f64; 3], car: &Rated) -> f64 {
    let effective = libm::exp(p[0] + p[2] * libm::log(car.in3 / car.hp / 1.9));
    p[1] + road_time(car, effective)
}

/// Gauss-Newton on ln t; returns parameters and the standard deviation of the log residuals.
fn fit(cars: &[(Rated, f64)], rows: &[usize]) -> ([f64; 3], f64) {
    let mut p = [-0.2, 4.0, 0.1];
    let residual = |p: &[f64; 3], i: usize| libm::log(cars[i].1 / global(p, &cars[i].0));
    for _ in 0..8 {
        let mut design = vec![];
        let mut r = vec![];
        for i in rows {
            let base = residual(&p, *i);
            r.push(base);
            let slope = |k: usize| {
                let mut q = p;
                q[k] += 1e-4;
                (base - residual(&q, *i)) / 1e-4
            };
            design.push((0..3).map(slope).collect::<Vec<f64>>());
        }
        let weights = vec![1.0; r.len()];
        let step = least_squares(&design, &r, &weights).unwrap().coefficients;
        for k in 0..3 {
            p[k] += step[k];
        }
        if step.iter().all(|s| s.abs() < 1e-7) {
            break;
        }
    }
    let sum: f64 = rows.iter().map(|i| residual(&p, *i) * residual(&p, *i)).sum();
    (p, libm::sqrt(sum / (rows.len() as f64 - 3.0)))
}

fn cars_392() -> Option<Vec<(Rated, f64)>> {
    let rows = table("cars_392.csv")?;
    assert_eq!(rows.len(), 392);
    Some(rows.iter().map(|r| (Rated { hp: r[1], lb: r[2], in3: r[4] }, r[3])).collect())
}

/// Share of |errors|, and the mean of them.
fn percent(errors: &[f64]) -> f64 {
    100.0 * errors.iter().map(|e| e.abs()).sum::<f64>() / errors.len() as f64
}

fn deviation(x: &[f64]) -> f64 {
    let mean = x.iter().sum::<f64>() / x.len() as f64;
    libm::sqrt(x.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>() / (x.len() as f64 - 1.0))
}

#[test]
fn zero_to_sixty_of_392_cars() {
    let Some(cars) = cars_392() else { return };
    let (mut errors, mut inside, mut plot) = (vec![], 0, vec![]);
    let mut implied = vec![];
    // One global fit on one half of the rows, tested on the other; then the halves change places.
    for fold in 0..2 {
        let (train, test): (Vec<usize>, Vec<usize>) = (0..cars.len()).partition(|i| i % 2 == fold);
        let (p, sd) = fit(&cars, &train);
        let mut fold_errors = vec![];
        for i in test {
            let (car, t) = &cars[i];
            let predicted = global(&p, car);
            fold_errors.push(predicted / t - 1.0);
            // Normal interval of the log residuals of the other half.
            inside += usize::from(libm::log(t / predicted).abs() <= 1.959963984540054 * sd);
            plot.push([predicted, *t]);
            let mut q = p;
            q[0] += 1e-3;
            let lever = libm::log(global(&q, car) / predicted) / 1e-3;
            implied.push(libm::log(t / predicted) / lever);
        }
        println!(
            "fit on half {fold}: eta {:.4}, t0 {:.3} s, exponent {:.4}, SD {sd:.4}; other half: mean absolute error {:.2} %",
            libm::exp(p[0]),
            p[1],
            p[2],
            percent(&fold_errors)
        );
        assert!(percent(&fold_errors) <= 8.0, "{}", percent(&fold_errors));
        errors.extend(fold_errors);
    }
    let cover = inside as f64 / cars.len() as f64;
    let spread = deviation(&implied);
    println!(
        "392 cars: mean absolute error {:.2} %, 95 % intervals cover {:.1} %; power implied by one time: SD of ln {spread:.3}, factor {:.2} to {:.2} at 95 %",
        percent(&errors),
        100.0 * cover,
        libm::exp(-1.96 * spread),
        libm::exp(1.96 * spread)
    );
    assert!((0.93..=0.97).contains(&cover), "{cover}");
    // The claims check lets a lone published time speak no louder than this.
    assert!((spread - fairpull_claims::LONE_TIME_LOG_SPREAD).abs() < 0.02, "{spread}");
    picture("cars-392.svg", "0 to 60 mph: predicted (held-out half) against published, s", &plot, 5.0, 27.0);
}

#[test]
fn no_gross_to_net_step_is_claimed() {
    // The 1971-72 change of rating is not in this table: rated power does not rise against weight and time before it.
    // What can be shown is the spread, and that a factor of 1.25 for some rows would not stand out from it by row.
    let Some(cars) = cars_392() else { return };
    let rows: Vec<usize> = (0..cars.len()).collect();
    let (p, sd) = fit(&cars, &rows);
    let one = &cars[0].0;
    let more = Rated { hp: 1.25 * one.hp, ..Rated { hp: one.hp, lb: one.lb, in3: one.in3 } };
    let shift = libm::log(global(&p, one) / global(&p, &more));
    assert!(shift < 1.96 * sd, "one car rated a quarter higher would stand out: {shift} against {sd}");
}

#[test]
fn quarter_mile_of_32_cars() {
    let Some(rows) = table("cars_32.csv") else { return };
    assert_eq!(rows.len(), 32);
    // ln t on ln(W/P), gearbox and ln(V/P): the constant-power law t ~ (W/P)^(1/3) with its exponent left free.
    let design: Vec<Vec<f64>> = rows
        .iter()
        .map(|r| vec![1.0, libm::log((r[2] + 300.0) / r[1]), r[6], libm::log(r[4] / r[1])])
        .collect();
    let y: Vec<f64> = rows.iter().map(|r| libm::log(r[3])).collect();
    let (mut errors, mut inside, mut plot, mut plain) = (vec![], 0, vec![], vec![]);
    for left_out in 0..rows.len() {
        let keep: Vec<f64> = (0..rows.len()).map(|i| if i == left_out { 0.0 } else { 1.0 }).collect();
        let fit = least_squares(&design, &y, &keep).unwrap();
        let row = &design[left_out];
        let got: f64 = row.iter().zip(&fit.coefficients).map(|(x, b)| x * b).sum();
        let mut leverage = 0.0;
        for i in 0..4 {
            for j in 0..4 {
                leverage += row[i] * fit.unscaled[i][j] * row[j];
            }
        }
        let dof = fit.dof - 1.0;
        let variance = fit.variance * fit.dof / dof;
        let half = fairpull_uncertainty::coverage_factor(dof) * libm::sqrt(variance * (1.0 + leverage));
        inside += usize::from((y[left_out] - got).abs() <= half);
        errors.push(libm::exp(got - y[left_out]) - 1.0);
        plot.push([libm::exp(got), rows[left_out][3]]);
    }
    let two: Vec<Vec<f64>> = design.iter().map(|r| r[..2].to_vec()).collect();
    let all = least_squares(&two, &y, &vec![1.0; 32]).unwrap().coefficients;
    for (row, v) in two.iter().zip(&y) {
        plain.push(libm::exp(all[0] + all[1] * row[1] - v) - 1.0);
    }
    println!(
        "32 cars: quarter mile, each left out in turn: mean absolute error {:.2} %, intervals cover {inside} of 32; weight over power alone, fitted to all: {:.2} %",
        percent(&errors),
        percent(&plain)
    );
    assert!(percent(&errors) <= 4.0, "{}", percent(&errors));
    assert!(percent(&plain) <= 4.0);
    assert!(inside >= 29, "{inside}");
    picture(
        "cars-32.svg",
        "standing quarter mile: predicted (left out) against published, s",
        &plot,
        13.0,
        24.0,
    );
}

#[test]
fn power_torque_speed_identity_of_47_cars() {
    let Some(rows) = table("cars_47.csv") else { return };
    assert_eq!(rows.len(), 47);
    let mut contradicted = vec![];
    let mut rounding = vec![];
    for r in &rows {
        let text = format!(
            "schema = \"fairpull-claim-1\"\n[engine]\npower = \"{}hp\"\npower_speed = \"{}rpm\"\ntorque = \"{}lbf.ft\"\n",
            r[1], r[2], r[3]
        );
        let claim = fairpull_claims::Claim::parse(&text, "row.toml").unwrap();
        let plugins = fairpull_core::Catalogue::new(&[], &[], &[]).unwrap();
        let vetting = fairpull_claims::vet(&claim, &plugins).unwrap();
        let check = vetting.checks.iter().find(|c| c.id == "torque-identity").unwrap();
        match check.outcome {
            fairpull_claims::Outcome::Contradicted => contradicted.push(r[0] as usize),
            fairpull_claims::Outcome::CannotTell => rounding.push(r[0] as usize),
            _ => {}
        }
    }
    println!("47 rows: contradicted {contradicted:?}, undecided for rounding {rounding:?}");
    // The two that need 12.9 % and 2.6 % more torque at peak power than their peak torque; 0.4 % is rounding.
    assert_eq!(contradicted, [12, 30]);
    assert!(rounding.iter().all(|r| [33, 34].contains(r)), "{rounding:?}");
}

/// A scatter plot; written into docs/plots when FAIRPULL_WRITE_PLOTS=1.
fn picture(name: &str, title: &str, points: &[[f64; 2]], low: f64, high: f64) {
    if !std::env::var("FAIRPULL_WRITE_PLOTS").is_ok_and(|v| v == "1") {
        return;
    }
    let at = |v: f64| 50.0 + (v - low) / (high - low) * 420.0;
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 500 520\" font-family=\"sans-serif\" font-size=\"12\" role=\"img\" aria-label=\"{title}\">\n<title>{title}</title>\n<rect width=\"500\" height=\"520\" fill=\"white\"/>\n<text x=\"250\" y=\"18\" text-anchor=\"middle\">{title}</text>\n"
    );
    let y = |v: f64| 520.0 - at(v);
    svg += &format!(
        "<line x1=\"{0:.1}\" y1=\"{1:.1}\" x2=\"{2:.1}\" y2=\"{3:.1}\" stroke=\"#888\"/>\n",
        at(low),
        y(low),
        at(high),
        y(high)
    );
    let mut tick = low;
    while tick <= high + 1e-9 {
        svg += &format!(
            "<text x=\"{:.1}\" y=\"495\" text-anchor=\"middle\">{tick}</text><text x=\"40\" y=\"{:.1}\" text-anchor=\"end\">{tick}</text>\n",
            at(tick),
            y(tick) + 4.0
        );
        tick += if high - low > 15.0 { 2.0 } else { 1.0 };
    }
    svg += "<text x=\"260\" y=\"513\" text-anchor=\"middle\">predicted, s</text><text x=\"14\" y=\"260\" text-anchor=\"middle\" transform=\"rotate(-90 14 260)\">published, s</text>\n";
    for p in points {
        svg += &format!(
            "<circle cx=\"{:.1}\" cy=\"{:.1}\" r=\"2.5\" fill=\"#0b5394\" fill-opacity=\"0.6\"/>\n",
            at(p[0]),
            y(p[1])
        );
    }
    svg += "</svg>\n";
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../docs/plots");
    std::fs::create_dir_all(&folder).unwrap();
    std::fs::write(folder.join(name), svg).unwrap();
}
