"""Road logs for the browser's demo and its tests: an invented car on an invented road, truth known.

Writes fixtures/road/demo. Pulls: 1575 kg, mass factor 1.05, a smooth power curve at the wheels, road load of 0.65 m²
and 0.011, slope of ±0.3 % (read in both directions). Coast-downs: 1600 kg and 3 % rotating mass under
F = 120 N + 0.35052 N/(m/s)² v², slope of ±0.2 %. Speeds carry 0.08 km/h of noise (one standard deviation).
The equation of motion is stepped by classical Runge-Kutta; Python's own seeded generator makes the noise.
"""
from pathlib import Path
from random import Random

G = 9.80665
FOLDER = Path("fixtures/road/demo")
HEAD = "# Invented: tests/reference/road_demo.py\nTime [s],Speed [km/h]\n"


def step(v, dt, acceleration):
    a = acceleration(v)
    b = acceleration(v + 0.5 * dt * a)
    c = acceleration(v + 0.5 * dt * b)
    d = acceleration(v + dt * c)
    return v + dt / 6 * (a + 2 * b + 2 * c + d)


def write(name, rate, speeds, seed):
    noise = Random(seed)
    rows = [f"{i / rate:.2f},{3.6 * v + noise.gauss(0, 0.08):.2f}\n" for i, v in enumerate(speeds)]
    FOLDER.mkdir(parents=True, exist_ok=True)
    (FOLDER / name).write_text(HEAD + "".join(rows), encoding="utf-8")


def wheel_power(v):
    x = (3.6 * v - 165) / 165
    return 158e3 * (1 - 0.55 * x * x)


def pull(name, slope, seed):
    def load(v):
        return 1575 * G * (0.011 + slope) + 0.5 * 1.2 * 0.65 * v * v

    speeds, v = [60 / 3.6] * 30, 60 / 3.6
    while v < 205 / 3.6:
        v = step(v, 0.1, lambda v: (wheel_power(v) / v - load(v)) / (1575 * 1.05))
        speeds.append(v)
    for _ in range(30):
        v = step(v, 0.1, lambda v: -load(v) / (1575 * 1.05))
        speeds.append(v)
    write(name, 10, speeds, seed)


def coast(name, slope, seed):
    speeds, v = [], 118 / 3.6
    while v > 12 / 3.6:
        speeds.append(v)
        v = step(v, 0.5, lambda v: -(120 + 1600 * G * slope + 0.35052 * v * v) / (1600 * 1.03))
    write(name, 2, speeds, seed)


pull("pull-north.csv", 0.003, 1)
pull("pull-south.csv", -0.003, 2)
for k in range(3):
    coast(f"coast-north-{k + 1}.csv", 0.002, 10 + k)
    coast(f"coast-south-{k + 1}.csv", -0.002, 20 + k)
