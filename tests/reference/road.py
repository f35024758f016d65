"""Acceleration times of invented cars by an independent solver: writes fixtures/road/reference.toml.

Run: python3 -m venv VENV && VENV/bin/pip install numpy scipy && VENV/bin/python tests/reference/road.py
Method: scipy.integrate.solve_ivp(method="DOP853", rtol=1e-12, atol=1e-12) over time with events, a second method from
the quadrature over speed that the crate uses.
"""
import math
import pathlib
import numpy as np
import scipy
from scipy.integrate import solve_ivp

G = 9.80665
OUT = pathlib.Path(__file__).resolve().parents[2] / "fixtures" / "road" / "reference.toml"


def integrate(force, mass, v, x, t, stop, kinks=()):
    """Piecewise integration: stops at every kink of the force so that the step control never straddles one."""
    while True:
        above = [k for k in kinks if k > v * (1 + 1e-13)]
        edge = min(above) if above else math.inf
        events = []
        def at_stop(tt, y):
            return stop(tt, y[0], y[1])
        at_stop.terminal = True
        def at_edge(tt, y):
            return y[0] - edge if math.isfinite(edge) else 1.0
        at_edge.terminal = True
        events = [at_stop, at_edge]
        sol = solve_ivp(lambda tt, y: [force(y[0]) / mass, y[0]], (t, t + 500.0), [v, x], method="DOP853",
                        rtol=1e-12, atol=1e-12, events=events)
        t, v, x = sol.t[-1], sol.y[0, -1], sol.y[1, -1]
        if sol.t_events[0].size:
            return t, v, x
        if not sol.t_events[1].size:
            raise RuntimeError("no event")
        v = edge


def speed(to):
    return lambda t, v, x: v - to


def distance(to):
    return lambda t, v, x: x - to


def car_a(power=220e3, cap=math.inf, slope=0.0, wind=0.0):
    m, me, f0, f2 = 1600.0, 1664.0, 0.011 * 1600 * G, 0.408
    sine = slope / math.hypot(1.0, slope)
    def force(v):
        u = v + wind
        return min(power / max(v, 1e-9), cap) - f0 - f2 * u * abs(u) - m * G * sine
    return force, me, ([power / cap] if math.isfinite(cap) else [])


def table(points):
    v = np.array([p[0] / 3.6 for p in points])
    p = np.array([p[1] * 1e3 for p in points])
    return lambda s: np.interp(s, v, p)


def geared():
    """Invented car with five gears, rotating parts by gear, shifts and a traction limit; 0 to 200 km/h and a kilometre."""
    m, r = 1450.0, 0.316
    gears, final, eff, shift_rpm, shift_s, slip, launch = [3.6, 2.1, 1.4, 1.0, 0.8], 3.7, 0.9, 6800.0, 0.25, 0.02, 2500.0
    curve = [(1000, 15.0), (2000, 38.0), (3000, 66.0), (4000, 95.0), (5000, 122.0), (6000, 140.0), (6500, 142.0), (7000, 138.0)]
    n, p = np.array([c[0] for c in curve], float), np.array([c[1] for c in curve]) * 1e3
    f0, f2 = 165.0, 0.38
    cap = 0.95 * 0.6 * m * G
    jw, jp, jg, je, wheels = 1.1, 0.03, 0.02, 0.16, 4
    def mass(i, engaged):
        j = jg + (je if engaged else 0.0)
        return m + wheels * jw / r**2 + jp * final**2 / r**2 + j * (gears[i] * final) ** 2 / r**2
    per = lambda i: 2 * math.pi * r * (1 - slip) / (gears[i] * final) / 60.0   # m/s per 1/min
    def go(stop):
        t, v, x, i = 0.0, 0.0, 0.0, 0
        ended = lambda: stop(t, v, x) >= -1e-12
        while True:
            v_shift = per(i) * shift_rpm if i + 1 < len(gears) else per(i) * n[-1]
            v_launch = per(0) * launch if i == 0 else 0.0
            def pull(s, i=i, v_launch=v_launch):
                at = max(s, v_launch) if i == 0 else s
                return eff * np.interp(at / per(i), n, p) / at
            force = lambda s: min(pull(s), cap) - f0 - f2 * s * s
            grid = np.linspace(max(v, 1e-6), v_shift, 20001)
            over = np.array([pull(s) > cap for s in grid])
            kinks = [per(i) * k for k in n] + ([v_launch] if i == 0 else [])
            for a, b in zip(np.flatnonzero(np.diff(over.astype(int))), np.flatnonzero(np.diff(over.astype(int))) + 1):
                lo, hi = grid[a], grid[b]
                want = over[a]
                for _ in range(80):
                    mid = 0.5 * (lo + hi)
                    if (pull(mid) > cap) == want:
                        lo = mid
                    else:
                        hi = mid
                kinks.append(hi)
            either = lambda tt, vv, xx: max(stop(tt, vv, xx), vv - v_shift)
            if v_launch > v:
                first = lambda tt, vv, xx: max(stop(tt, vv, xx), vv - v_launch)
                t, v, x = integrate(force, mass(i, False), v, x, t, first, kinks)
                if ended():
                    return t, v, x
            t, v, x = integrate(force, mass(i, True), v, x, t, either, kinks)
            if ended():
                return t, v, x
            roll_end = t + shift_s
            def over_time(tt, vv, xx):
                return max(tt - roll_end, stop(tt, vv, xx))
            t, v, x = integrate(lambda s: -f0 - f2 * s * s, mass(i, False), v, x, t, over_time)
            if ended():
                return t, v, x
            i += 1
    return go


def main():
    out = ["# Acceleration times by scipy.integrate.solve_ivp, DOP853, rtol = atol = 1e-12, piecewise between kinks.",
           f"# scipy {scipy.__version__}, numpy {np.__version__}; script tests/reference/road.py; all cars invented.",
           'source = "scipy.integrate.solve_ivp (DOP853)"', ""]
    def case(name, car, measure, result):
        t, v, x = result
        out.extend(["[[case]]", f'name = "{name}"', f'car = "{car}"', f"measure = {measure}",
                    f"time_s = {float(t)!r}", f"end_speed_mps = {float(v)!r}", f"distance_m = {float(x)!r}", ""])
    mph = 1.609344
    for name, lo, hi in [("100-200 km/h", 100.0, 200.0), ("60-130 mph", 60 * mph, 130 * mph), ("80-120 km/h", 80.0, 120.0)]:
        f, me, k = car_a()
        case(name, "a", f'{{ from_kmh = {lo!r}, to_kmh = {hi!r} }}', integrate(f, me, lo / 3.6, 0, 0, speed(hi / 3.6), k))
    for slope in (0.005, -0.005, 0.01, -0.01):
        f, me, k = car_a(slope=slope)
        case(f"100-200 km/h, slope {slope}", "a", f'{{ from_kmh = 100.0, to_kmh = 200.0, slope_percent = {100 * slope!r} }}', integrate(f, me, 100 / 3.6, 0, 0, speed(200 / 3.6), k))
    for wind in (3.0, -3.0):
        f, me, k = car_a(wind=wind)
        case(f"100-200 km/h, wind {wind}", "a", f'{{ from_kmh = 100.0, to_kmh = 200.0, headwind_mps = {wind!r} }}', integrate(f, me, 100 / 3.6, 0, 0, speed(200 / 3.6), k))
    cap = 0.9 * 0.55 * 1600 * G
    f, me, k = car_a(cap=cap)
    for name, hi in [("0-100 km/h", 100.0), ("0-60 mph", 60 * mph), ("0-200 km/h", 200.0)]:
        case(name, "a-traction", f'{{ from_kmh = 0.0, to_kmh = {hi!r} }}', integrate(f, me, 0.0, 0, 0, speed(hi / 3.6), k))
    q = integrate(f, me, 0.0, 0, 0, distance(402.336), k)
    case("quarter mile", "a-traction", "{ distance_m = 402.336 }", q)
    case("kilometre", "a-traction", "{ distance_m = 1000.0 }", integrate(f, me, 0.0, 0, 0, distance(1000.0), k))
    roll = integrate(f, me, 0.0, 0, 0, distance(0.3048), k)
    sixty = integrate(f, me, 0.0, 0, 0, speed(60 * 0.44704), k)
    case("0-60 mph with rollout", "a-traction", f'{{ from_kmh = 0.0, to_kmh = {60 * mph!r}, rollout = true }}', (sixty[0] - roll[0], sixty[1], sixty[2] - roll[2]))
    qr = integrate(f, me, 0.0, 0, 0, distance(402.336 + 0.3048), k)
    case("quarter mile after rollout", "a-traction", "{ distance_m = 402.336, rollout = true }", (qr[0] - roll[0], qr[1], 402.336))
    pts = [(100, 150), (150, 200), (200, 190)]
    p = table(pts)
    f0, f2 = 0.011 * 1600 * G, 0.408
    tab = lambda s: p(s) / s - f0 - f2 * s * s
    ks = [x[0] / 3.6 for x in pts]
    case("table 100-200 km/h", "a-table", '{ from_kmh = 100.0, to_kmh = 200.0 }', integrate(tab, 1664.0, 100 / 3.6, 0, 0, speed(200 / 3.6), ks))
    t, v, x = integrate(tab, 1664.0, 100 / 3.6, 0, 0, speed(150 / 3.6), ks)
    end = t + 0.3
    t, v, x = integrate(lambda s: -f0 - f2 * s * s, 1664.0, v, x, t, lambda tt, vv, xx: tt - end)
    case("table with shift", "a-table-shift", '{ from_kmh = 100.0, to_kmh = 200.0 }', integrate(tab, 1664.0, v, x, t, speed(200 / 3.6), ks))
    go = geared()
    for name, m, stop in [("geared 0-100 km/h", '{ from_kmh = 0.0, to_kmh = 100.0 }', speed(100 / 3.6)),
                          ("geared 0-180 km/h", '{ from_kmh = 0.0, to_kmh = 180.0 }', speed(50.0)),
                          ("geared kilometre", "{ distance_m = 1000.0 }", distance(1000.0))]:
        case(name, "geared", m, go(stop))
    OUT.parent.mkdir(parents=True, exist_ok=True)
    OUT.write_text("\n".join(out))


main()
