//! An invented result for the tests: no such car, workshop or measurement exists.

use crate::model::*;

fn i(value: f64, half: f64) -> Interval {
    Interval { value, lo95: value - half, hi95: value + half }
}

fn fact(label: &str, value: &str) -> Fact {
    Fact { label: label.into(), value: value.into() }
}

fn power(rpm: f64) -> f64 {
    let x = (rpm - 6200.0) / 4300.0;
    291.0 * (1.0 - x * x) - 9.0 * libm::exp(-((rpm - 4100.0) / 300.0) * ((rpm - 4100.0) / 300.0))
}

fn point(rpm: f64, gain: f64) -> CurvePoint {
    let kw = power(rpm) * (1.0 + gain);
    let nm = kw * 9549.297 / rpm;
    let half = 0.012 * kw + 0.6;
    CurvePoint {
        engine_speed_rpm: rpm,
        crank_power_kw: i(kw, half),
        crank_power_band_kw: i(kw, half * 1.6),
        crank_torque_nm: i(nm, half * 9549.297 / rpm),
        wheel_power_kw: i(kw * 0.86, half * 0.8),
        pulls: 4,
    }
}

fn gain_at(rpm: f64) -> f64 {
    0.038 * libm::exp(-((rpm - 5600.0) / 1700.0) * ((rpm - 5600.0) / 1700.0)) - 0.004
}

fn pull(state: &str, n: usize, level: f64, grid: &[f64]) -> Pull {
    let warm = n as f64;
    let first = state == "as delivered";
    Pull {
        name: format!("{state}-{n}.csv"),
        file: format!("logs/{state}-{n}.csv"),
        start_s: 12.4,
        duration_s: 11.3 + 0.1 * warm,
        samples: 1130 + 10 * n,
        from_rpm: 2412.0,
        to_rpm: 6788.0,
        station_pressure_kpa: if first { 97.83 } else { 98.61 },
        temperature_c: 22.4 + 0.9 * warm,
        humidity_percent: 47.0 - warm,
        vapour_pressure_kpa: 1.27,
        factor: 1.0,
        blind_factor: 1.0241 + 0.001 * warm,
        factor_notes: vec![
            "Control holds charge pressure against the ambient (as the job states): factor 1.".into(),
        ],
        peak_power_kw: 291.0 * (1.0 + level / 100.0),
        peak_power_rpm: 6180.0 + 20.0 * warm,
        level_percent: level,
        loss_kw: 41.3,
        coast_down: "6700 to 2600 1/min, 1480 samples, fit 0.9987".into(),
        repairs: vec![Repair {
            what: "Gap of 0.12 s bridged by interpolation of no channel; pull cut in two".into(),
            count: 1,
            first_line: 412,
        }],
        flags: if n == 4 { vec!["Intake air 2.1 K warmer than the first pull.".into()] } else { Vec::new() },
        curve_kw: grid.iter().map(|r| (*r < 6700.0).then(|| power(*r) * (1.0 + level / 100.0))).collect(),
    }
}

fn channel(role: &str, name: &str, unit: &str, mean: f64, half: f64, grid: &[f64]) -> ChannelStat {
    ChannelStat {
        role: role.into(),
        name: name.into(),
        unit: unit.into(),
        mean: i(mean, half),
        at_peak_power: Some(i(mean * 1.07, half * 1.3)),
        smallest: mean * 0.8,
        largest: mean * 1.15,
        curve: grid.iter().map(|r| (*r > 2600.0).then_some(mean)).collect(),
    }
}

fn state(name: &str, back: f64, gain: impl Fn(f64) -> f64, levels: [f64; 4]) -> State {
    let grid: Vec<f64> = (0..=42).map(|k| 2500.0 + 100.0 * f64::from(k)).collect();
    let curve: Vec<CurvePoint> = grid.iter().map(|r| point(*r, gain(*r))).collect();
    let best = |of: fn(&CurvePoint) -> Interval| {
        let top = curve.iter().max_by(|a, b| of(a).value.total_cmp(&of(b).value)).expect("a curve");
        Peak { value: of(top), engine_speed_rpm: top.engine_speed_rpm, at_edge: false }
    };
    let peak_power = best(|c| c.crank_power_kw);
    let restated = |id: &str, designation: &str, status: &str, factor: Option<f64>, why: &str| Restated {
        standard: id.into(),
        designation: designation.into(),
        status: status.into(),
        factor,
        peak_power_kw: factor.map(|f| i(peak_power.value.value * f, 4.3 * f)),
        why: why.into(),
    };
    let line = |source: &str, part: &str, input: &str, percent: f64, share: f64, remedy: &str| BudgetLine {
        source: source.into(),
        part: part.into(),
        input: input.into(),
        percent,
        share_percent: share,
        remedy: remedy.into(),
    };
    State {
        name: name.into(),
        fuel: Some("petrol, RON 98".into()),
        pulls: levels.iter().enumerate().map(|(k, l)| pull(name, k + 1, *l, &grid)).collect(),
        peak_power,
        peak_torque: best(|c| c.crank_torque_nm),
        curve,
        restated: vec![
            restated("iso-1585", "ISO 1585:2020", "within", Some(1.0), ""),
            restated(
                "din-70020",
                "DIN 70020-6:1997",
                "outside",
                Some(1.031),
                "Temperature outside the range in which the factor holds.",
            ),
            restated(
                "jis-d-1001",
                "JIS D 1001:1993",
                "not-applicable",
                None,
                "Compression ignition only in this reading.",
            ),
        ],
        repeatability_percent: 0.42,
        soak: Some(Soak {
            percent_per_pull: i(-0.21, 0.35),
            first_to_last_percent: -0.63,
            statement:
                "No detectable trend over the four pulls (−0.2 % a pull, 95 % interval −0.6 to +0.1 %)."
                    .into(),
        }),
        budget: vec![
            line(
                "Roller inertia",
                "rig",
                "0.5 % of 12.4 kg·m²",
                0.47,
                41.0,
                "Weigh and swing the rollers, or calibrate with a known brake.",
            ),
            line(
                "Coast-down fit",
                "rig",
                "1.9 kW at the peak",
                0.41,
                31.0,
                "Coast down after every pull, to a lower speed.",
            ),
            line(
                "Pull-to-pull scatter",
                "run",
                "0.42 % over 4 pulls",
                0.33,
                20.0,
                "More pulls; equal soak before each.",
            ),
            line("Station pressure", "rig", "0.1 kPa", 0.22, 8.0, "A calibrated barometer at the rig."),
        ],
        channels: vec![
            channel("pre-turbine-pressure", "Pre-turbine pressure, gauge", "bar", back, 0.03, &grid),
            channel("charge-temperature", "Charge temperature", "°C", 48.3, 1.4, &grid),
            channel("lambda", "Lambda", "1", 0.862, 0.006, &grid),
        ],
        stress: vec![StressStat {
            id: "bmep".into(),
            name: "Brake mean effective pressure".into(),
            unit: "bar".into(),
            value: i(19.4, 0.3),
            remark: Some("invented remark".into()),
        }],
        margins: vec![FuelMargin {
            fuel: "RON 98 MON 88".into(),
            name: "RON 98 MON 88".into(),
            margin_on: Some(i(2.1, 3.4)),
            verdict: "undecided".into(),
            statement: "undecided: the uncertainty is larger than the margin".into(),
        }],
    }
}

/// Two states of four pulls each.
pub(crate) fn invented() -> ResultModel {
    let first = state("as delivered", 1.92, |_| 0.0, [0.45, 0.1, -0.12, -0.43]);
    let second = state("larger turbine housing", 1.57, gain_at, [0.3, 0.22, -0.4, -0.12]);
    let gains = first
        .curve
        .iter()
        .map(|c| {
            let g = 100.0 * gain_at(c.engine_speed_rpm);
            let half = 0.9 + 0.2 * libm::fabs(c.engine_speed_rpm - 4500.0) / 2000.0;
            GainPoint {
                engine_speed_rpm: c.engine_speed_rpm,
                gain_percent: i(g, half),
                gain_band_percent: i(g, half * 1.7),
            }
        })
        .collect();
    let change = |role: &str, name: &str, unit: &str, from: f64, by: f64, half: f64| ChannelChange {
        role: role.into(),
        name: name.into(),
        unit: unit.into(),
        from,
        to: from + by,
        change: i(by, half),
        detectable: by.abs() > half,
    };
    let comparison = Comparison {
        from: first.name.clone(),
        to: second.name.clone(),
        curve: gains,
        band_rpm: [3000.0, 6500.0],
        mean_gain_percent: i(2.31, 0.84),
        mean_gain_kw: i(5.6, 2.0),
        peak_gain_percent: i(2.6, 1.0),
        peak_gain_kw: i(7.5, 2.9),
        smallest_detectable_percent: 1.12,
        verdict: "gain".into(),
        statement: "The larger turbine housing makes more power than the car as delivered; the gain is larger than the smallest this job would have detected.".into(),
        within_percent: 3.0,
        more_pulls: None,
        remarks: vec!["All pulls of one state were driven before the other; a slow drift of the rig would look like a gain.".into()],
        channels: vec![
            change("pre-turbine-pressure", "Pre-turbine pressure", "bar", 1.92, -0.35, 0.05),
            change("charge-temperature", "Charge temperature", "K", 48.3, -0.9, 2.1),
            change("lambda", "Lambda", "1", 0.862, 0.003, 0.008),
        ],
        stress: vec![StressChange {
            id: "bmep".into(),
            name: "Brake mean effective pressure".into(),
            unit: "bar".into(),
            from: 19.4,
            to: 19.9,
            change: i(0.5, 0.2),
            detectable: true,
        }],
        cost: "Power up 2.3 ± 0.8 %, pre-turbine pressure down 0.35 bar ± 0.05.".into(),
    };
    let step = |what: &str, formula: &str, inputs: &str, output: &str, source: &str, reading: &str| Step {
        what: what.into(),
        formula: formula.into(),
        inputs: inputs.into(),
        output: output.into(),
        source: source.into(),
        reading: reading.into(),
    };
    ResultModel {
        schema: SCHEMA.into(),
        program: "fairpull 0.1.0".into(),
        title: "Turbine housing, before and after".into(),
        note: Some("Invented data: no such car, workshop or measurement exists.".into()),
        job: "job.toml".into(),
        vehicle: vec![fact("Car", "Invented hatchback, 2.0 L, turbocharged"), fact("Driven wheels", "front, tyre 225/45 R17")],
        rig: vec![fact("Rig", "Invented roller rig, two rollers"), fact("Roller inertia", "12.4 kg·m² ± 0.5 %")],
        basis: Basis {
            site: "crank".into(),
            standard: "iso-1585".into(),
            designation: "ISO 1585:2020".into(),
            rating: "net".into(),
            status: "current".into(),
            reference: "99 kPa dry, 298 K".into(),
            reading: "read in a quoting source".into(),
            loss_model: "measured coast-down after each pull".into(),
            statement: "Net power at the crankshaft, corrected to ISO 1585:2020 (99 kPa dry air, 25 °C), losses from the coast-down after each pull, petrol RON 98.".into(),
        },
        units: Units { power: vec!["kW".into(), "PS".into()], torque: vec!["Nm".into(), "lbf·ft".into()] },
        states: vec![first, second],
        comparisons: vec![comparison],
        trail: vec![
            step("Power at the wheels", "P = J · ω · dω/dt", "J = 12.4 kg·m², ω = 88.1 rad/s, dω/dt = 227 rad/s²", "P = 248 kW", "Newton's second law for rotation", "textbook"),
            step("Power at the crankshaft", "P_e = P_w + P_loss(v)", "P_w = 248 kW, P_loss = 41.3 kW", "P_e = 289 kW", "Coast-down of the same pull", "measured"),
            step("Factor", "α_a = (99/p_s)^1.2 · (T/298)^0.6", "p_s = 96.6 kPa, T = 295.5 K", "1.0241; in use: 1", "ISO 1585:2020, 6.3", "read in a quoting source"),
        ],
        notices: vec![
            "The text of the standard was read in a quoting source, not in the document.".into(),
            "Humidity was taken from the job, not from the logs.".into(),
        ],
        cautions: vec!["Two pulls ended above the stated tyre speed less 10 %: check the rating.".into()],
        seed: 20_261_125,
    }
}
