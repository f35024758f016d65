"""Writes fixtures/units.toml: every unit's SI factor from its defining constants, by exact rational arithmetic.

Run from the repository root: python tests/reference/units.py   (needs pint 0.25.3 for the second opinion)
"""

from decimal import Decimal, getcontext
from fractions import Fraction as F

import pint

getcontext().prec = 40
PI = Decimal("3.141592653589793238462643383279502884197")

# Defining constants.
IN, FT, MI, NMI = F("0.0254"), F("0.3048"), F("1609.344"), F(1852)
LB, G0 = F("0.45359237"), F("9.80665")
ATM, BAR = F(101325), F(100000)
MIN, H = F(60), F(3600)
LBF, KGF = LB * G0, G0
HP, PS = 550 * LBF * FT, 75 * KGF
MMHG = F("13595.1") * G0 / 1000
INH2O = 1000 * G0 * IN
GAL_US, GAL_UK = 231 * IN**3, F("0.00454609")
KWH = F(3600000)
PER_MINUTE = ("pi", F(1, 30))

UNITS = {
    "power": {"kW": F(1000), "W": F(1), "MW": F(10**6), "PS": PS, "hp": HP, "lbf·ft/s": LBF * FT},
    "torque": {"N·m": F(1), "kN·m": F(1000), "lbf·ft": LBF * FT, "lbf·in": LBF * IN, "kgf·m": KGF},
    "pressure": {
        "Pa": F(1), "hPa": F(100), "kPa": F(1000), "MPa": F(10**6), "mbar": F(100), "bar": BAR,
        "psi": LBF / IN**2, "inHg": MMHG * F("25.4"), "mmHg": MMHG, "Torr": ATM / 760, "inH2O": INH2O,
        "mmH2O": G0, "atm": ATM, "kgf/cm²": KGF * 10000,
    },
    "temperature": {"°C": F(1), "K": F(1), "°F": F(5, 9)},
    "temperature difference": {"K": F(1), "°F": F(5, 9)},
    "speed": {"km/h": F(1000) / H, "m/s": F(1), "mph": MI / H, "kn": NMI / H, "ft/s": FT, "ft/min": FT / MIN},
    "rotational speed": {"rpm": PER_MINUTE, "rad/s": F(1), "rev/s": ("pi", F(2))},
    "rotational acceleration": {"rad/s²": F(1), "rpm/s": PER_MINUTE},
    "acceleration": {"m/s²": F(1), "g": G0, "ft/s²": FT},
    "length": {"m": F(1), "mm": F(1, 1000), "cm": F(1, 100), "km": F(1000), "µm": F(1, 10**6), "in": IN,
               "ft": FT, "mi": MI},
    "area": {"m²": F(1), "cm²": F(1, 10**4), "mm²": F(1, 10**6), "in²": IN**2, "ft²": FT**2},
    "volume": {"L": F(1, 1000), "cm³": F(1, 10**6), "m³": F(1), "in³": IN**3, "ft³": FT**3,
               "gal(US)": GAL_US, "gal(UK)": GAL_UK},
    "mass": {"kg": F(1), "g": F(1, 1000), "mg": F(1, 10**6), "lb": LB, "t": F(1000)},
    "force": {"N": F(1), "kN": F(1000), "lbf": LBF, "kgf": KGF},
    "time": {"s": F(1), "ms": F(1, 1000), "µs": F(1, 10**6), "min": MIN, "h": H},
    "angle": {"°": ("pi", F(1, 180)), "rad": F(1)},
    "mass flow": {"kg/s": F(1), "kg/h": 1 / H, "kg/min": 1 / MIN, "g/s": F(1, 1000), "lb/min": LB / MIN,
                  "lb/h": LB / H, "lb/s": LB},
    "volume flow": {"m³/s": F(1), "m³/h": 1 / H, "L/min": F(1, 1000) / MIN, "L/h": F(1, 1000) / H,
                    "L/s": F(1, 1000), "cm³/min": F(1, 10**6) / MIN, "ft³/min": FT**3 / MIN,
                    "gal(US)/min": GAL_US / MIN},
    "moment of inertia": {"kg·m²": F(1), "g·m²": F(1, 1000), "kg·cm²": F(1, 10**4), "lb·ft²": LB * FT**2,
                          "lb·in²": LB * IN**2, "lbf·ft·s²": LBF * FT},
    "specific fuel consumption": {"g/kWh": F(1, 1000) / KWH, "kg/kWh": 1 / KWH, "kg/J": F(1),
                                  "lb/hph": LB / (HP * H), "g/PSh": F(1, 1000) / (PS * H)},
    "fuel per cycle and displaced volume": {"mg/L": F(1, 1000)},
    "density": {"kg/m³": F(1), "g/cm³": F(1000), "lb/ft³": LB / FT**3},
    "heating value": {"MJ/kg": F(10**6), "kJ/kg": F(1000), "J/kg": F(1), "Btu/lb": F("1055.05585262") / LB,
                      "kcal/kg": F("4186.8")},
    "ratio": {"%": F(1, 100), "1": F(1), "‰": F(1, 1000), "ppm": F(1, 10**6), "g/kg": F(1, 1000),
              "gr/lb": F(1, 7000)},
    "voltage": {"V": F(1), "mV": F(1, 1000)},
}

# What pint calls them, where it has them.
PINT = {
    "hp": "horsepower", "PS": "metric_horsepower", "lbf·ft": "foot_pound", "kgf·m": "kilogram_force * meter",
    "psi": "psi", "inHg": "inch_Hg", "mmHg": "mmHg", "Torr": "torr", "atm": "atm", "kgf/cm²": "kgf / cm**2",
    "mph": "mph", "kn": "knot", "rpm": "rpm", "gal(US)": "gallon", "gal(UK)": "imperial_gallon",
    "lb/min": "lb / min", "lb/h": "lb / hour", "ft³/min": "ft**3 / min", "lb·ft²": "lb * ft**2",
    "lb/hph": "lb / (horsepower * hour)", "lbf": "lbf", "kgf": "kgf", "lb": "lb", "in³": "inch**3",
    "lb/ft³": "lb / ft**3", "gr/lb": "grain / lb", "Btu/lb": "Btu_it / lb", "lb·in²": "lb * inch**2",
    "lbf·in": "lbf * inch", "°": "degree", "mi": "mile", "ft²": "ft**2",
}

# NIST SP 811 (2008), appendix B.8: factors as printed, seven digits; written here from memory.
SP811 = {
    "hp": "7.456999E+02", "PS": "7.354988E+02", "lbf·ft": "1.355818E+00", "inHg": "3.386389E+03",
    "mmHg": "1.333224E+02", "Torr": "1.333224E+02", "inH2O": "2.490889E+02", "mmH2O": "9.80665E+00",
    "psi": "6.894757E+03", "atm": "1.01325E+05", "kgf/cm²": "9.80665E+04", "lbf": "4.448222E+00",
    "kgf": "9.80665E+00", "lb": "4.535924E-01", "gal(US)": "3.785412E-03", "gal(UK)": "4.54609E-03",
    "ft³": "2.831685E-02", "in³": "1.638706E-05", "ft³/min": "4.719474E-04", "gal(US)/min": "6.309020E-05",
    "lb/min": "7.559873E-03", "lb/h": "1.259979E-04", "lb/hph": "1.689659E-07", "lb·ft²": "4.214011E-02",
    "lb·in²": "2.926397E-04", "lbf·in": "1.129848E-01", "kn": "5.144444E-01", "mph": "4.4704E-01",
    "km/h": "2.777778E-01", "Btu/lb": "2.326E+03", "lb/ft³": "1.601846E+01", "rpm": "1.047198E-01",
    "°": "1.745329E-02",
}


def decimal(value):
    if isinstance(value, tuple):
        return PI * Decimal(value[1].numerator) / Decimal(value[1].denominator)
    return Decimal(value.numerator) / Decimal(value.denominator)


def main():
    ureg = pint.UnitRegistry()
    lines = [
        'source = "defining constants of the international yard and pound (1959), standard gravity (CGPM 1901), bar, atm, litre, gallons"',
        'script = "tests/reference/units.py: exact rational arithmetic, 25 digits kept"',
        'pint = "pint %s: UnitRegistry().Quantity(1, unit).to_base_units().magnitude"' % pint.__version__,
        'sp811 = "NIST SP 811 (2008), appendix B.8, seven digits as printed; from memory"',
        "",
    ]
    for dimension, rows in UNITS.items():
        for symbol, value in rows.items():
            lines += ["[[unit]]", f'dimension = "{dimension}"', f'symbol = "{symbol}"', f'si = "{decimal(value):.25g}"']
            second = dimension not in ("rotational acceleration", "temperature difference")
            if symbol in PINT and second and not (symbol in ("lb", "kg") and dimension != "mass"):
                magnitude = ureg.Quantity(1, PINT[symbol]).to_base_units().magnitude
                lines.append(f'pint = {{ unit = "{PINT[symbol]}", si = {float(magnitude)!r} }}')
            if symbol in SP811:
                lines.append(f'sp811 = "{SP811[symbol]}"')
            lines.append("")
    with open("fixtures/units.toml", "w", encoding="utf-8") as out:
        out.write("\n".join(lines))


main()
