//! What the rig shares between all pulls: one line a source, with its effect on every curve.

use fairpull_recordings::Role;

use crate::delay::Delay;
use crate::deviation::Deviation;
use crate::job::{Job, RigKind};
use crate::slip::Slip;

/// One source of common uncertainty.
pub(crate) struct RigSource {
    pub name: &'static str,
    pub input: String,
    pub remedy: &'static str,
    pub up: Deviation,
    /// How many times `up` a standard uncertainty is: a full step of a hardly measured drag could turn it negative.
    pub times: f64,
}

/// All sources of a job, each moved up by one standard uncertainty.
pub(crate) fn sources(job: &Job, slip: &Slip, late: &Delay, loss: &str) -> Vec<RigSource> {
    let d = Deviation::default();
    let (measured_loss, assumed_loss) = (loss == "coast-down", loss == "prior-band");
    let percent = |x: f64| format!("{} %", round(100.0 * x));
    let mut out = Vec::new();
    let mut add = |name, input: String, remedy, up: Deviation| {
        if up != d {
            let times = if up.drag == [0.0; 2] { 1.0 } else { 1.0 / SMALL };
            out.push(RigSource { name, input, remedy, up, times });
        }
    };
    let inertia = job.rig.inertia.relative;
    if job.rig.kind != RigKind::Hub {
        add(
            "roller inertia",
            percent(inertia),
            "calibrate the inertia with a known force",
            Deviation { inertia, ..d },
        );
    }
    if job.rig.kind != RigKind::InertiaRoller {
        add(
            "force calibration",
            percent(job.rig.force),
            "calibrate with certified weights",
            Deviation { force: job.rig.force, ..d },
        );
    }
    add(
        "delay of the force channel",
        if late.measured {
            format!("{:.0} ms, from the pulls", 1e3 * late.seconds)
        } else {
            format!("{:.0} ms, assumed", 1e3 * late.seconds)
        },
        "hold the car at full load for a second before the ramp",
        Deviation { delay: late.uncertainty, ..d },
    );
    let radius = job.rig.radius.relative;
    if job.rig.kind != RigKind::Hub {
        add(
            "roller radius",
            percent(radius),
            "measure the circumference with a tape",
            Deviation { radius, ..d },
        );
    }
    let engine_inertia = job.vehicle.engine_inertia.relative;
    add(
        "engine inertia",
        percent(engine_inertia),
        "declare a weighed flywheel, or compare two ramp rates",
        Deviation { engine_inertia, ..d },
    );
    // torque and turns of a hub make power whatever the tyre; a road speed there brings its radius in
    let turns = job.layout.columns.iter().any(|c| c.role == Role::HubRotation);
    if job.rig.kind != RigKind::Hub || !turns {
        let tyre = job.vehicle.tyre_radius.relative;
        add("tyre radius", percent(tyre), "measure the loaded radius on the roller", Deviation { tyre, ..d });
    }
    if measured_loss {
        let share = job.loss.share.map_or(0.0, |s| s.1);
        add(
            "load share of the gearbox",
            percent(share),
            "use a value for this gearbox",
            Deviation { share, ..d },
        );
        for (drag, name) in [
            ([SMALL, 0.0], "drag beyond the coast-down, slope"),
            ([0.0, SMALL], "drag beyond the coast-down, curvature"),
        ] {
            add(
                name,
                "what the samples leave to a wide prior".into(),
                "let the car coast down further",
                Deviation { drag, ..d },
            );
        }
    } else {
        // the band is judgement, and a small roller about doubles the loss of a tyre: three times its own uncertainty
        let size = if assumed_loss { 3.0 } else { 1.0 };
        let remedy = "record a coast-down after each pull";
        add("loss model", "its own interval".into(), remedy, Deviation { loss: [size, 0.0], ..d });
        if assumed_loss {
            // drag rises with speed while torque falls: from the middle of a pull to its ends the share is as open again
            let input = "as much as its level, from the middle to either end".into();
            add("loss model, along the speed", input, remedy, Deviation { loss: [0.0, size], ..d });
        }
    }
    add(
        "tyre slip",
        if slip.measured { "estimated from engine and roller speed".into() } else { "assumed".into() },
        "record engine speed",
        Deviation { slip: slip.per_newton_u, ..d },
    );
    add(
        "barometer",
        format!("{} hPa", round(job.pressure_u / 100.0)),
        "compare the barometer with the nearest weather station, reduced to the height of the rig",
        Deviation { pressure: job.pressure_u, ..d },
    );
    add(
        "intake thermometer",
        format!("{} K", round(job.temperature_u)),
        "measure at the intake, shielded from radiation, at several points",
        Deviation { temperature: job.temperature_u, ..d },
    );
    add(
        "humidity",
        percent(job.humidity_u),
        "use a calibrated hygrometer",
        Deviation { humidity: job.humidity_u, ..d },
    );
    out
}

/// Step of the drag's shape, in standard deviations of its prior.
const SMALL: f64 = 0.125;

fn round(x: f64) -> f64 {
    libm::round(x * 1e4) / 1e4
}
