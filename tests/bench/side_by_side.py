"""The same work by this project and by the general-purpose libraries a user would otherwise take.

Run from the repository root: python tests/bench/side_by_side.py PATH/TO/fairpull PATH/TO/fairpull-bench [pulls]
Needs the versions in requirements.txt. Every log is invented: the pulls of fixtures/demo with seeded noise, no real
car, shop or person. CPU seconds (user and system) of whole processes or of the calls alone, as the line says; one
thread. What is timed by this project does more (it finds the pulls, weighs every error and writes a report); what is
timed by the libraries is the least that gives a corrected mean curve.
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
        for i in range(pulls // 2):
            at = draw.randrange(8191)
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


def children():
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def reduce_here(command, folder):
    """CPU seconds of `fairpull reduce` on the archive."""
    before = children()
    words = [command, "reduce", str(folder / "job.toml"), "--out", str(folder / "report"), "--force"]
    subprocess.run(words, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    return children() - before


def read_here(bench, folder):
    """CPU seconds of reading and checking the four columns of every log."""
    before = children()
    words = [bench, "read", *sorted(str(p) for p in folder.glob("*.csv"))]
    subprocess.run(words, check=True, stdout=subprocess.DEVNULL)
    return children() - before


def reduce_there(folder, parse_only=False):
    """CPU seconds of the least a dataframe and a filter can do, imports not counted."""
    import numpy as np
    import pandas as pd
    from scipy.signal import savgol_filter

    begun = time.process_time()
    grid = np.arange(3000.0, 6000.0, 50.0)
    factor = (99.0 / 96.9) ** 1.2 * (297.0 / 298.0) ** 0.6
    mass = 21.5 / 0.159**2 + 2 * 1.1 / 0.316**2 + (0.02 + 0.16) * 5.62**2 / 0.316**2
    curves = {}
    for path in sorted(folder.glob("*.csv")):
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
    names = ["pandas", "scipy", "numpy", "pint", "PsychroLib"]
    print("versions: " + ", ".join(f"{n} {version(n)}" for n in names) + f", Python {sys.version.split()[0]}")
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        megabytes = archive(folder, pulls)
        reduce_there(folder, parse_only=True)
        ours, reading, theirs, parsing = [], [], [], []
        for _ in range(3):
            ours.append(reduce_here(command, folder))
            reading.append(read_here(bench, folder))
            theirs.append(reduce_there(folder))
            parsing.append(reduce_there(folder, parse_only=True))
        rate = lambda s: megabytes / min(s)
        print(f"archive: {pulls} pulls x {ROWS} rows x {len(COLUMNS)} columns, {megabytes:.0f} MB; best of 3")
        print(f"| fairpull reduce, report included | {rate(ours):.0f} MB per CPU second |")
        print(f"| dataframe and filter | {rate(theirs):.0f} MB per CPU second |")
        print(f"| dataframe, parsing alone | {rate(parsing):.0f} MB per CPU second |")
        print(f"| fairpull, logs read and checked alone | {rate(reading):.0f} MB per CPU second |")
        print(f"| ratio, reduction | {rate(ours) / rate(theirs):.1f} |")
        print(f"| ratio, reading alone | {rate(reading) / rate(parsing):.1f} |")
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
