"""The same work by this project and by the general-purpose libraries a user would otherwise take.

Run from the repository root: python tests/bench/side_by_side.py PATH/TO/fairpull PATH/TO/fairpull-bench [pulls [rounds]]
Needs the versions in requirements.txt. Every log is invented: the pulls of fixtures/demo with seeded noise, no real
car, shop or person. CPU seconds (user and system) of whole processes or of the calls alone, as the line says; one
thread.

The libraries are timed twice. "Dataframe and filter" is the least that gives a corrected mean curve. "Spline and draws"
gives comparable figures: a smoothing spline, its weight given beforehand or found for each pull by cross-validation
(timed on ten pulls only), the drag of the coast-down, power at the crank, a corrected mean curve of each state, and 95 %
intervals from the scatter of the pulls and 200 vectorised draws of the stated calibration uncertainties. It still finds
pulls by two thresholds, takes noise as uncorrelated, slip and delays as nothing and heat soak as scatter, and writes no
report.
"""

import os

for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"

import random
import resource
import subprocess
import sys
import tempfile
import time
from importlib.metadata import version
from pathlib import Path

DEMO = Path("fixtures/demo")
ROWS = 2000
COLUMNS = ["Time [s]", "Roller [km/h]", "Engine [rpm]", "Intake [°C]", "Charge [°C]", "Manifold [kPa]",
           "Pre-turbine [kPa]", "Exhaust [°C]", "Lambda", "Spark [deg]", "Coolant [°C]", "Oil [°C]"]
SOURCES = {"before": ["before-1.csv", "before-4.csv"], "after": ["after-1.csv", "after-3.csv"]}
# pulls in each job of a folder of jobs
EACH = 10
READ = ["time", "roller_speed", "engine_speed", "intake_temperature"]


def demo(name):
    lines = (DEMO / name).read_text(encoding="utf-8-sig").splitlines()
    return [[float(c) for c in line.split(",")] for line in lines[1:]][:ROWS]


def archive(folder, pulls):
    """Logs of 12 columns x 2000 rows, and the job that reduces them."""
    draw = random.Random(7)
    noise = [draw.gauss(0.0, 1.0) for _ in range(8191)]
    text = (DEMO / "job.toml").read_text(encoding="utf-8")
    head = text[: text.index("[columns.time]")]
    states = text[text.index("[[state]]"):].split("[[state]]")[1:]
    parts = text[text.index("[columns.time]"): text.index("[[state]]")].split("[columns.")[1:]
    job = head + "".join("[columns." + p for p in parts if p.split("]")[0] in READ)
    size = 0
    for state, sources in SOURCES.items():
        base = [demo(name) for name in sources]
        about = next(s for s in states if f'name = "{state}"' in s)
        job += "[[state]]" + about[: about.index("[[state.log]]")]
        # no start twice: a pull that is another to the last digit is refused as no repeat of it
        starts = draw.sample(range(8191), pulls // 2)
        for i, at in enumerate(starts):
            lines = [",".join(COLUMNS) + "\n"]
            for j, x in enumerate(base[i % 2]):
                a, b = noise[(at + j) % 8191], noise[(at + 3 * j + 11) % 8191]
                lines.append(
                    f"{x[0]:.6f},{x[1] + 0.02 * a:.6f},{x[2] + 4 * b:.5f},{x[3] + 0.02 * a:.6f},"
                    f"{x[4] + 0.02 * b:.6f},{x[5] + 0.2 * a:.6f},{x[6] + 0.2 * b:.6f},{x[7] + a:.5f},"
                    f"{x[8] + 0.0005 * b:.7f},{x[9] + 0.01 * a:.6f},{88 + 0.01 * b:.6f},{95 + 0.01 * a:.6f}\n"
                )
            name = f"{state}-{i + 1}.csv"
            (folder / name).write_text("".join(lines), encoding="utf-8")
            size += (folder / name).stat().st_size
            job += f'[[state.log]]\nfile = "{name}"\n\n'
    (folder / "job.toml").write_text(job, encoding="utf-8")
    return size / 1e6


def divided(folder, logs, each):
    """The same logs as a folder of jobs with `each` pulls; links, so that nothing is copied."""
    text = (folder / "job.toml").read_text(encoding="utf-8")
    head, *states = text.split("[[state]]")
    halves = {state: sorted(p for p in logs if p.name.startswith(state)) for state in SOURCES}
    jobs = []
    for k in range(0, len(logs) // 2, each // 2):
        job = folder / "jobs" / f"job-{k // (each // 2) + 1:04d}"
        job.mkdir(parents=True)
        out, mine = head, []
        for state, about in zip(SOURCES, states):
            out += "[[state]]" + about[: about.index("[[state.log]]")]
            for log in halves[state][k : k + each // 2]:
                os.link(log, job / log.name)
                mine.append(job / log.name)
                out += f'[[state.log]]\nfile = "{log.name}"\n\n'
        (job / "job.toml").write_text(out, encoding="utf-8")
        jobs.append(mine)
    return jobs


def children():
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def reduce_here(command, what, out):
    """CPU seconds of `fairpull reduce` on one job, or on a folder of them."""
    before = children()
    words = [command, "reduce", str(what), "--out", str(out), "--force"]
    subprocess.run(words, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    return children() - before


def read_here(bench, logs):
    """CPU seconds of reading and checking the four columns of every log."""
    before = children()
    for k in range(0, len(logs), 500):
        subprocess.run([bench, "read", *map(str, logs[k : k + 500])], check=True, stdout=subprocess.DEVNULL)
    return children() - before


GRID = (3000.0, 6000.0, 50.0)
CAR = {"wheels": 2 * 1.1, "radius": 0.316, "engine": 0.16, "gearbox": 0.02, "ratio": 5.62, "share": 0.02}
RIG = {"inertia": 21.5, "radius": 0.159}
DRAWS = 200
# what generalised cross-validation gives for these logs, so that it need not be run for each pull
WEIGHT = 5e-3


def correction(pressure, temperature):
    """Pressures in kPa, temperatures in K, arrays or numbers."""
    return (99.0 / pressure) ** 1.2 * (temperature / 298.0) ** 0.6


def reduce_there(logs, parse_only=False):
    """CPU seconds of the least a dataframe and a filter can do, imports not counted."""
    import numpy as np
    import pandas as pd
    from scipy.signal import savgol_filter

    begun = time.process_time()
    grid = np.arange(*GRID)
    factor = correction(96.9, 297.0)
    mass = RIG["inertia"] / RIG["radius"] ** 2 + CAR["wheels"] / CAR["radius"] ** 2
    mass += (CAR["gearbox"] + CAR["engine"]) * CAR["ratio"] ** 2 / CAR["radius"] ** 2
    curves = {}
    for path in logs:
        log = pd.read_csv(path)
        if parse_only:
            continue
        time_s, v = log["Time [s]"].to_numpy(), log["Roller [km/h]"].to_numpy() / 3.6
        even = np.arange(time_s[0], time_s[-1], 0.02)
        smooth = np.interp(even, time_s, v)
        slope = savgol_filter(smooth, 25, 3, deriv=1, delta=0.02)
        speed = savgol_filter(smooth, 25, 3)
        rpm = np.interp(even, time_s, log["Engine [rpm]"].to_numpy())
        pull = slice(0, int(np.argmax(speed)))
        power = mass * slope[pull] * speed[pull] * factor
        order = np.argsort(rpm[pull])
        curves.setdefault(path.name.split("-")[0], []).append(np.interp(grid, rpm[pull][order], power[order]))
    means = {state: np.mean(c, axis=0) for state, c in curves.items()}
    if len(means) == 2:
        _ = means["after"] / means["before"] - 1.0
    return time.process_time() - begun


def pull_there(log, grid, weight):
    """Speed, acceleration and deceleration in the coast-down where a pull passes the grid. Without a weight of the
    penalty it is found by generalised cross-validation."""
    import numpy as np
    from scipy.interpolate import make_smoothing_spline
    from scipy.signal import medfilt

    t, v, turns = (log[name].to_numpy() for name in ("Time [s]", "Roller [km/h]", "Engine [rpm]"))
    good = np.r_[True, np.diff(np.maximum.accumulate(t)) > 0] & (np.abs(v - medfilt(v, 5)) < 2.0)
    t, v, turns = t[good], v[good] / 3.6, turns[good]
    top = int(np.argmax(v))
    start = top - int(np.argmax(v[top::-1] < v[0] + 0.5)) + 1
    pull = slice(start, top - 10)
    spline = make_smoothing_spline(t[pull], v[pull], lam=weight)
    rpm = np.polynomial.Polynomial.fit(v[pull], turns[pull], 1)
    ends = rpm(v[[start, top - 10]])
    when = np.interp(grid, rpm(v[pull]), t[pull], left=np.nan, right=np.nan)
    speed, rise = spline(when), spline.derivative()(when)
    inside = (grid > ends[0]) & (grid < ends[1])
    # the brakes come on where the slope over half a second doubles
    coast = slice(top + 25, len(v))
    fall = (v[coast][:-25] - v[coast][25:]) / (t[coast][25:] - t[coast][:-25])
    end = int(np.argmax(fall > 2.0 * np.median(fall[:100]))) or len(fall)
    drag = np.polynomial.Polynomial.fit(v[coast][12 : 12 + end], fall[:end], 2)
    return np.where(inside, [speed, rise, drag(speed)], np.nan)


def figures_there(logs, draw, weight):
    """Mean curves with 95 % intervals of the states of one job, and of the gain."""
    import numpy as np
    import pandas as pd
    from scipy.stats import t as student

    grid = np.arange(*GRID)
    columns = ["Time [s]", "Roller [km/h]", "Engine [rpm]"]
    states = {}
    for path in logs:
        log = pd.read_csv(path, usecols=columns)
        states.setdefault(path.name.split("-")[0], []).append(pull_there(log, grid, weight))
    # standard uncertainties of the job: one row a draw, one column a point; the first draw is the declared value
    z = draw.standard_normal((8, DRAWS + 1, 1))
    z[:, 0] = 0.0
    rig = RIG["inertia"] * (1 + 0.002 * z[0]) / (RIG["radius"] * (1 + 0.0003 * z[1])) ** 2
    r2 = (CAR["radius"] * (1 + 0.01 * z[2])) ** 2
    open_ = CAR["wheels"] / r2 + CAR["gearbox"] * CAR["ratio"] ** 2 / r2
    geared = open_ + CAR["engine"] * (1 + 0.03 * z[3]) * CAR["ratio"] ** 2 / r2
    factor = correction(96.9 + 0.05 * z[4] - 0.06 * z[5], 297.0 + 0.5 * z[6])
    share = CAR["share"] + 0.0015 * z[7]
    results = {}
    for state, pulls in states.items():
        speed, rise, fall = np.asarray(pulls).transpose(1, 0, 2)
        driving, dragging = np.nanmean(rise * speed, axis=0), np.nanmean(fall * speed, axis=0)
        power = factor / (1 - share) * ((rig + geared) * driving + (rig + open_) * dragging)
        each = np.log(rise * speed + fall * speed)
        error = np.nanstd(each, axis=0, ddof=1) / np.sqrt(len(pulls))
        run = student.ppf(0.975, len(pulls) - 1) * error
        low, high = np.nanpercentile(power, [2.5, 97.5], axis=0) / power[0] - 1
        results[state] = (power, error, power[0] * (1 - np.hypot(low, run)), power[0] * (1 + np.hypot(high, run)))
    (before, b, *_), (after, a, *_) = results["before"], results["after"]
    gain = np.nanmean(after / before - 1, axis=1)
    half = np.nanmean(np.hypot(a, b)) * student.ppf(0.975, len(logs) - 2)
    return results, (gain[0], np.hypot(1.96 * gain.std(), half))


def splines_there(jobs, weight=WEIGHT):
    """CPU seconds of comparable figures for each job, imports not counted; and the last job's peaks in kW."""
    import numpy as np

    draw = np.random.default_rng(1)
    begun = time.process_time()
    for logs in jobs:
        results, _ = figures_there(logs, draw, weight)
    used = time.process_time() - begun
    return used, {state: np.nanmax(r[0][0]) / 1e3 for state, r in results.items()}


def bench_lines(bench):
    """Time of the small calls as `fairpull-bench` prints them, ns."""
    text = subprocess.run([bench, "small"], check=True, capture_output=True, text=True).stdout
    found = {}
    for line in text.splitlines():
        cells = [c.strip() for c in line.split("|")]
        if len(cells) > 3 and " a " in cells[2]:
            value, unit = cells[2].split(" a ")[0].split(" ")
            found[cells[1]] = float(value) * {"ns": 1.0, "µs": 1e3, "ms": 1e6}[unit]
    return found


def per_call(call, calls):
    begun = time.process_time()
    for _ in range(calls):
        call()
    return (time.process_time() - begun) / calls * 1e9


def main():
    command, bench = sys.argv[1], sys.argv[2]
    pulls = int(sys.argv[3]) if len(sys.argv) > 3 else 200
    rounds = int(sys.argv[4]) if len(sys.argv) > 4 else 3
    names = ["pandas", "scipy", "numpy", "pint", "PsychroLib"]
    print("versions: " + ", ".join(f"{n} {version(n)}" for n in names) + f", Python {sys.version.split()[0]}")
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        megabytes = archive(folder, pulls)
        logs = sorted(folder.glob("*.csv"))
        jobs = divided(folder, logs, EACH)
        reduce_there(logs[:20])
        splines_there(jobs[:1])
        used = {name: [] for name in ("one", "many", "read", "filter", "parse", "spline")}
        for _ in range(rounds):
            used["one"].append(reduce_here(command, folder / "job.toml", folder / "report"))
            used["many"].append(reduce_here(command, folder / "jobs", folder / "results"))
            used["read"].append(read_here(bench, logs))
            used["filter"].append(reduce_there(logs))
            used["parse"].append(reduce_there(logs, parse_only=True))
            seconds, peaks = splines_there(jobs)
            used["spline"].append(seconds)
        each, _ = splines_there(jobs[:1], None)
        used["each"] = [each * pulls / len(jobs[0])]
        least = {name: min(seconds) for name, seconds in used.items()}
        print(f"archive: {pulls} pulls x {ROWS} rows x {len(COLUMNS)} columns, {megabytes:.0f} MB; best of {rounds}")
        print("| what | CPU seconds | MB per CPU second | times dataframe and filter | times spline and draws |")
        for name, what in [
            ("one", "fairpull reduce, one job, report included"),
            ("many", f"fairpull reduce, a folder of {len(jobs)} jobs, reports and table included"),
            ("filter", "dataframe and filter"),
            ("spline", f"spline and draws, {len(jobs)} jobs, weight given"),
            ("each", "the same, weight found for each pull (timed on one job)"),
        ]:
            rate = f"{least[name]:.2f} | {megabytes / least[name]:.0f}"
            print(f"| {what} | {rate} | {least['filter'] / least[name]:.1f} | {least['spline'] / least[name]:.1f} |")
        for name, what in [("read", "fairpull, logs read and checked alone"), ("parse", "dataframe, parsing alone")]:
            print(f"| {what} | {least[name]:.2f} | {megabytes / least[name]:.0f} | | |")
        print("peaks of spline and draws, last job: " + ", ".join(f"{s} {p:.1f} kW" for s, p in peaks.items()))
    small = bench_lines(bench)
    import pint
    import psychrolib

    units = pint.UnitRegistry()
    quantity = units.Quantity(530.0, "metric_horsepower")
    psychrolib.SetUnitSystem(psychrolib.SI)
    pairs = [
        ("unit conversion, PS to kW", "pint", lambda: quantity.to("kW"), 20_000),
        ("moist air from relative humidity", "PsychroLib",
         lambda: psychrolib.GetVapPresFromRelHum(20.0, 0.55), 20_000),
    ]
    for what, name, call, calls in pairs:
        theirs = min(per_call(call, calls) for _ in range(5))
        print(f"| {what} | {small[what]:.0f} ns | {name} {theirs:.0f} ns | ratio {theirs / small[what]:.0f} |")


if __name__ == "__main__":
    main()
