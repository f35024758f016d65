"""Writes the library outputs under fixtures/moist-air: psychrolib, iapws and CoolProp from -10 to 50 °C.

Run from the repository root: python tests/reference/moist_air.py
Needs PsychroLib 2.5.0, iapws 1.5.5, CoolProp 8.0.0.
"""

from importlib.metadata import version

import CoolProp.CoolProp as cp
import iapws
import psychrolib as ps
from iapws.iapws97 import _PSat_T

ps.SetUnitSystem(ps.SI)
TEMPERATURES = [-10.0, -5.0, 0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0]
HUMIDITIES = [0.1, 0.3, 0.5, 0.7, 0.9, 1.0]
PRESSURES = [80000.0, 95000.0, 101325.0, 105000.0]


def write(name, head, rows):
    with open(f"fixtures/moist-air/{name}", "w", encoding="utf-8") as out:
        out.write("\n".join(head) + "\n\ncase = [\n")
        for row in rows:
            out.write("  { " + ", ".join(f"{k} = {v!r}" for k, v in row.items()) + " },\n")
        out.write("]\n")


def saturation():
    rows = []
    for t in TEMPERATURES:
        k = t + 273.15
        row = {"t_c": t, "psychrolib_pa": ps.GetSatVapPres(t)}
        if k < 273.16:
            row["iapws_pa"] = float(iapws._iapws._Sublimation_Pressure(k)) * 1e6
        else:
            row["iapws_pa"] = float(_PSat_T(k)) * 1e6
            row["coolprop_pa"] = cp.PropsSI("P", "T", k, "Q", 0, "Water")
        rows.append(row)
    head = [
        'source = "reference libraries; over ice below 0.01 °C, over water above"',
        f'psychrolib = "PsychroLib {version("PsychroLib")}: GetSatVapPres(t)"',
        f'iapws = "iapws {version("iapws")}: iapws97._PSat_T(T), _Sublimation_Pressure(T) below 273.16 K"',
        f'coolprop = "CoolProp {version("CoolProp")}: PropsSI(P, T, Q=0, Water)"',
    ]
    write("saturation.toml", head, rows)


def moist():
    a, b = [], []
    for t in TEMPERATURES:
        for phi in HUMIDITIES:
            for p in PRESSURES:
                w = ps.GetHumRatioFromRelHum(t, phi, p)
                a.append({
                    "t_c": t, "phi": phi, "p_pa": p, "humidity_ratio": w,
                    "dew_point_c": ps.GetTDewPointFromRelHum(t, phi),
                    "wet_bulb_c": ps.GetTWetBulbFromRelHum(t, phi, p),
                    "density": ps.GetMoistAirDensity(t, w, p),
                })
                k = t + 273.15
                b.append({
                    "t_c": t, "phi": phi, "p_pa": p,
                    "humidity_ratio": cp.HAPropsSI("W", "T", k, "P", p, "R", phi),
                    "dew_point_c": cp.HAPropsSI("D", "T", k, "P", p, "R", phi) - 273.15,
                    "wet_bulb_c": cp.HAPropsSI("B", "T", k, "P", p, "R", phi) - 273.15,
                    "density": 1.0 / cp.HAPropsSI("Vha", "T", k, "P", p, "R", phi),
                })
    write("psychrolib.toml", [
        f'source = "PsychroLib {version("PsychroLib")}, SI units (ASHRAE, ideal gases, Hyland-Wexler, ice below 0.01 °C)"',
        'calls = "GetHumRatioFromRelHum, GetTDewPointFromRelHum, GetTWetBulbFromRelHum, GetMoistAirDensity"',
        'note = "the library stops its wet bulb at 0.001 K"',
    ], a)
    write("coolprop.toml", [
        f'source = "CoolProp {version("CoolProp")}, HAPropsSI with T, P, R (real gas, ASHRAE RP-1485)"',
        'calls = "HAPropsSI: W, D - 273.15, B - 273.15, 1/Vha"',
    ], b)


saturation()
moist()
