"""Independent integration of the closed cycle and its induction-time integral.

Writes fixtures/knock/cycles.toml. The equations stand in docs/knock.md; here they are written a second time and
integrated by scipy's DOP853 at a relative tolerance of 1e-12, roots by brentq. Run from the repository root:
    python3 tests/reference/knock.py
"""
import math
import sys

import scipy
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, minimize_scalar

DEFAULT = dict(xlim=0.85, lhv=43e6, eta=0.95, tw=450.0, a=5.0, m=2.0, gu=1.31, heat=1.0, xr=0.05, end=130.0)
NAMES = "bore stroke rod ratio rpm p_ivc t_ivc th_ivc th_s duration afr".split()
CASES = {
    "naturally-aspirated": (0.086, 0.086, 0.1435, 11.0, 2500.0, 1.15e5, 375.0, -130.0, -14.0, 46.0, 13.5),
    "boosted": (0.0825, 0.0928, 0.144, 9.6, 4000.0, 2.2e5, 370.0, -140.0, -2.0, 50.0, 12.5),
}


def cycle(values, **over):
    o = DEFAULT | over
    c = dict(zip(NAMES, values))
    area, crank = math.pi * c["bore"] ** 2 / 4, c["stroke"] / 2
    swept = area * c["stroke"]
    clearance = swept / (c["ratio"] - 1)
    speed = 2 * c["stroke"] * c["rpm"] / 60
    rad, gas = math.pi / 180, 275.0

    def volume(t):
        s, k = math.sin(t * rad), math.cos(t * rad)
        return clearance + area * (c["rod"] + crank - (crank * k + math.sqrt(c["rod"] ** 2 - (crank * s) ** 2)))

    def volume_slope(t):
        s, k = math.sin(t * rad), math.cos(t * rad)
        return area * rad * (crank * s + crank**2 * s * k / math.sqrt(c["rod"] ** 2 - (crank * s) ** 2))

    v0 = volume(c["th_ivc"])
    mass = c["p_ivc"] * v0 / (gas * c["t_ivc"])
    heat = mass * (1 - o["xr"]) / (1 + c["afr"]) * o["lhv"] * o["eta"]

    def slope(t, y, burning):
        p, v = y[0], volume(t)
        temp = p * v / (mass * gas)
        burn, w = 0.0, 2.28 * speed
        if burning:
            x = (t - c["th_s"]) / c["duration"]
            if x > 0:
                burn = o["a"] * (o["m"] + 1) * x ** o["m"] * math.exp(-o["a"] * x ** (o["m"] + 1)) / c["duration"]
            motored = c["p_ivc"] * (v0 / v) ** 1.32
            w += 3.24e-3 * swept * c["t_ivc"] / (c["p_ivc"] * v0) * max(p - motored, 0.0)
        h = o["heat"] * 3.26 * c["bore"] ** -0.2 * (p / 1e3) ** 0.8 * temp**-0.55 * w**0.8
        wall = h * (2 * area + 4 * v / c["bore"]) * (temp - o["tw"]) / (6 * c["rpm"])
        g = 1.338 - 6e-5 * temp + 1e-8 * temp**2
        dp = ((g - 1) * (heat * burn - wall) - g * p * volume_slope(t)) / v
        unburned = c["t_ivc"] * (p / c["p_ivc"]) ** ((o["gu"] - 1) / o["gu"])
        tau = 0.01768 * (p / 101325) ** -1.7 * math.exp(3800 / unburned)
        return [dp, wall, 1 / (6 * c["rpm"] * tau), p * volume_slope(t)]

    limit = c["th_s"] + c["duration"] * (-math.log(1 - o["xlim"]) / o["a"]) ** (1 / (o["m"] + 1))
    how = dict(method="DOP853", rtol=1e-12, atol=1e-13, dense_output=True)
    one = solve_ivp(slope, (c["th_ivc"], c["th_s"]), [c["p_ivc"], 0, 0, 0], args=(False,), **how)
    two = solve_ivp(slope, (c["th_s"], limit), one.y[:, -1], args=(True,), **how)
    three = solve_ivp(slope, (limit, o["end"]), two.y[:, -1], args=(True,), **how)

    def at(t):
        return (one if t <= c["th_s"] else two if t <= limit else three).sol(t)

    def unburned(p):
        return c["t_ivc"] * (p / c["p_ivc"]) ** ((o["gu"] - 1) / o["gu"])

    def burned(t):
        x = (t - c["th_s"]) / c["duration"]
        return 1 - math.exp(-o["a"] * x ** (o["m"] + 1)) if x > 0 else 0.0

    def onset(octane):
        target = (octane / 100) ** 3.402
        if at(o["end"])[2] < target:
            return None
        return brentq(lambda t: at(t)[2] - target, c["th_s"], o["end"], xtol=1e-12)

    integral = two.y[2, -1]
    peak = minimize_scalar(lambda t: -at(t)[0], bounds=(0, 60), method="bounded", options=dict(xatol=1e-9))
    return dict(
        volume_ivc=v0, volume_30=volume(30.0), mass=mass, heat=heat, limit_angle=limit, integral_100=integral,
        required_octane=100 * integral ** (1 / 3.402), pressure_at_top=at(0.0)[0], peak_pressure=-peak.fun,
        peak_angle=peak.x, unburned_at_peak=unburned(-peak.fun), unburned_at_limit=unburned(two.y[0, -1]),
        work_per_volume=three.y[3, -1] / swept, wall_heat=three.y[1, -1], onset=onset, burned=burned,
    )


def changed(values, **over):
    c = dict(zip(NAMES, values))
    for key, by in over.items():
        c[key] = by(c[key])
    return tuple(c[k] for k in NAMES)


def retard(values, octane):
    def miss(by):
        return cycle(changed(values, th_s=lambda s: s + by))["required_octane"] - octane

    return brentq(miss, -12, 12, xtol=1e-10)


def main(out):
    print('source = "the equations of docs/knock.md integrated a second time: scipy %s, solve_ivp(method=DOP853,'
          ' rtol=1e-12, atol=1e-13), roots by brentq"' % scipy.__version__, file=out)
    print('script = "tests/reference/knock.py"', file=out)
    for name, values in CASES.items():
        got = cycle(values)
        base = got["required_octane"]
        print(f'\n[[cycle]]\nname = "{name}"', file=out)
        print("input = [" + ", ".join(repr(v) for v in values) + "]", file=out)
        for key, value in got.items():
            if not callable(value):
                print(f"{key} = {float(value)!r}", file=out)
        onsets = [(o, got["onset"](o)) for o in (91, 95, 98, 100)]
        print("onset = [" + ", ".join(f"[{o}.0, {a!r}]" for o, a in onsets) + "]", file=out)
        print("retard = [" + ", ".join(f"[{o}.0, {retard(values, o)!r}]" for o in (95, 98, 102)) + "]", file=out)
        steps = dict(
            spark_1_degree=cycle(changed(values, th_s=lambda s: s - 1)),
            temperature_10_k=cycle(changed(values, t_ivc=lambda t: t + 10)),
            pressure_10_kpa=cycle(changed(values, p_ivc=lambda p: p + 1e4)),
            pressure_3_percent=cycle(changed(values, p_ivc=lambda p: p * 1.03)),
            compression_ratio_1=cycle(changed(values, ratio=lambda r: r + 1)),
            speed_1000=cycle(changed(values, rpm=lambda n: n + 1000)),
            residuals_3_percent=cycle(values, xr=0.08),
            burn_limit_5_percent=cycle(values, xlim=0.90),
            unburned_gamma_1_percent=cycle(values, gu=1.32),
            heat_transfer_50_percent=cycle(values, heat=1.5),
        )
        print("[cycle.sensitivity]", file=out)
        for key, value in steps.items():
            print(f"{key} = {float(value['required_octane'] - base)!r}", file=out)
    # octane-rating engine at the compression ratios of the guide table of the research method
    over = dict(lhv=44.3e6, eta=0.90, tw=430.0, heat=1.5, xr=0.06)
    for octane, counter in ((80, 609), (90, 726), (95, 805), (98, 867), (100, 919)):
        ratio = 1 + 0.1143 / (0.01742116238087605 - 0.0007 * 0.0254 * (counter - 930))
        values = (0.08255, 0.1143, 0.254, ratio, 600.0, 1.01e5, 400.0, -152.0, -10.0, 36.3254, 13.44)
        low, usual = cycle(values, xlim=0.70, **over), cycle(values, **over)
        start = low["onset"](octane)
        print(f"\n[[rating_engine]]\noctane = {octane}.0\ncounter = {counter}.0\nratio = {ratio!r}", file=out)
        print(f"onset = {start!r}\nburned = {low['burned'](start)!r}", file=out)
        print(f"required_at_70 = {float(low['required_octane'])!r}", file=out)
        print(f"required_at_85 = {float(usual['required_octane'])!r}", file=out)


if __name__ == "__main__":
    with open(sys.argv[1] if len(sys.argv) > 1 else "fixtures/knock/cycles.toml", "w", encoding="utf-8") as file:
        main(file)
