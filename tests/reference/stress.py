"""Compressor temperatures, viscosity, friction factors and compressible pipe flow from general-purpose libraries.

Writes fixtures/stress/libraries.toml. Run from the repository root:
    python3 tests/reference/stress.py
"""
import math
import sys

import cantera as ct
import CoolProp
import fluids
import scipy
from CoolProp.CoolProp import PropsSI
from scipy.integrate import solve_ivp

R = 287.05


def compressor(out):
    gas = ct.Solution("air.yaml")
    for t1, p1, ratio, eta in ((298.15, 1e5, 1.5, 0.75), (298.15, 1e5, 2.0, 0.72), (298.15, 1e5, 2.5, 0.70),
                               (298.15, 9.8e4, 3.0, 0.68), (313.15, 9.5e4, 2.2, 0.74)):
        gas.TPX = t1, p1, "O2:0.2095, N2:0.7812, AR:0.0093"
        h1, s1 = gas.enthalpy_mass, gas.entropy_mass
        gas.SP = s1, p1 * ratio
        h2 = h1 + (gas.enthalpy_mass - h1) / eta
        gas.HP = h2, p1 * ratio
        work = h2 - h1
        s = PropsSI("S", "T", t1, "P", p1, "Air")
        h = PropsSI("H", "T", t1, "P", p1, "Air")
        hs = PropsSI("H", "S", s, "P", p1 * ratio, "Air")
        real = PropsSI("T", "H", h + (hs - h) / eta, "P", p1 * ratio, "Air")
        print(f"\n[[compressor]]\nt1 = {t1!r}\np1 = {p1!r}\nratio = {ratio!r}\nefficiency = {eta!r}", file=out)
        print(f"cantera = {gas.T!r}\ncoolprop = {real!r}\nwork = {work!r}", file=out)


def viscosity(out):
    for t, p in ((250.0, 1e5), (298.15, 1e5), (320.0, 2.4e5), (600.0, 1.05e5), (900.0, 1.05e5), (1100.0, 1.5e5)):
        print(f"\n[[air]]\nkelvin = {t!r}\npascals = {p!r}", file=out)
        print(f"viscosity = {PropsSI('V', 'T', t, 'P', p, 'Air')!r}", file=out)
        print(f"density = {PropsSI('D', 'T', t, 'P', p, 'Air')!r}", file=out)


def friction(out):
    for re in (500.0, 1e4, 1e5, 1e6, 5e6):
        for rough in (1e-6, 1e-4, 1e-3):
            f = fluids.friction.friction_factor(Re=re, eD=rough, Method="Clamond" if re > 2300 else "laminar")
            print(f"\n[[friction]]\nreynolds = {re!r}\nroughness = {rough!r}\nfactor = {f!r}", file=out)



def pipes(out):
    """Isothermal flow from fluids.isothermal_gas; Fanno flow by integrating dp along the pipe with scipy."""
    for m, t1, p1, length, d, gamma in ((0.345, 900.0, 1.15e5, 3.0, 0.0732, 1.33), (0.345, 900.0, 1.15e5, 3.0, 0.0859, 1.33),
                                        (0.55, 1100.0, 1.5e5, 3.0, 0.0732, 1.32), (0.32, 320.0, 2.4e5, 1.5, 0.0508, 1.4)):
        area = math.pi * d * d / 4
        mu = PropsSI("V", "T", t1, "P", p1, "Air")
        f = fluids.friction.friction_factor(Re=m * d / area / mu, eD=5e-5 / d, Method="Clamond")
        p2 = fluids.isothermal_gas(rho=p1 / (R * t1), fd=f, P1=p1, L=length, D=d, m=m)
        # adiabatic: momentum G dv + dp = -f/(2 D) G v dx, energy cp T + v²/2 constant
        cp, g = gamma * R / (gamma - 1), m / area
        h0 = cp * t1 + (g * R * t1 / p1) ** 2 / 2

        def speed(p):
            k = g * R / (p * cp)  # v = G R T/p and T = (h0 - v²/2)/cp
            return (-1 + math.sqrt(1 + 2 * k * k * h0)) / k

        def slope(_, y):
            p = y[0]
            v = speed(p)
            step = 1e-3
            dv = (speed(p + step) - speed(p - step)) / (2 * step)
            return [-(f / (2 * d)) * g * v / (1 + g * dv)]

        run = solve_ivp(slope, (0, length), [p1], method="DOP853", rtol=1e-11, atol=1e-6)
        print(f"\n[[pipe]]\nflow = {m!r}\nkelvin = {t1!r}\npascals = {p1!r}\nlength = {length!r}", file=out)
        print(f"diameter = {d!r}\ngamma = {gamma!r}\nfriction = {f!r}", file=out)
        print(f"isothermal_outlet = {p2!r}\nadiabatic_outlet = {float(run.y[0, -1])!r}", file=out)
        loss = f * length / d * p1 / (R * t1) * (g * R * t1 / p1) ** 2 / 2
        print(f"incompressible_loss = {loss!r}", file=out)


def main(out):
    print(f'source = "cantera {ct.__version__} (air.yaml, SP and HP states); CoolProp {CoolProp.__version__} (PropsSI, Air);'
          f' fluids {fluids.__version__} (friction_factor Clamond, isothermal_gas); scipy {scipy.__version__}'
          ' (solve_ivp DOP853 along the pipe)"', file=out)
    print('script = "tests/reference/stress.py"', file=out)
    compressor(out)
    viscosity(out)
    friction(out)
    pipes(out)


if __name__ == "__main__":
    with open(sys.argv[1] if len(sys.argv) > 1 else "fixtures/stress/libraries.toml", "w", encoding="utf-8") as file:
        main(file)
