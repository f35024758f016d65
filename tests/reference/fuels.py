"""Heating values, air-fuel ratios, molar masses, densities and heats of vaporisation of neat fuel substances.

Writes fixtures/fuels/neat.toml from the library chemicals (CAS data: enthalpies of formation, molar masses, latent
heats and liquid densities) and from CoolProp where it has the fluid. Run from the repository root:
    python3 tests/reference/fuels.py
"""
import sys

import chemicals
import CoolProp
from CoolProp.CoolProp import PropsSI

FUELS = {  # id: CAS number, c, h, o, CoolProp name
    "ethanol": ("64-17-5", 2, 6, 1, "Ethanol"),
    "methanol": ("67-56-1", 1, 4, 1, "Methanol"),
    "iso-octane": ("540-84-1", 8, 18, 0, "Isooctane"),
    "n-heptane": ("142-82-5", 7, 16, 0, "Heptane"),
    "toluene": ("108-88-3", 7, 8, 0, "Toluene"),
    "mtbe": ("1634-04-4", 5, 12, 1, None),
    "etbe": ("637-92-3", 6, 14, 1, None),
}
CO2, WATER = -393.51e3, -241.826e3  # enthalpies of formation, J/mol, gas


def main(out):
    print(f'source = "chemicals {chemicals.__version__} (chemicals.Hfl, chemicals.MW); CoolProp {CoolProp.__version__}'
          ' (PropsSI density at 288.15 K and 101325 Pa, latent heat at 298.15 K)"', file=out)
    print('script = "tests/reference/fuels.py"', file=out)
    for name, (cas, c, h, o, fluid) in FUELS.items():
        molar = chemicals.MW(cas)
        print(f'\n[[fuel]]\nid = "{name}"\nmolar_mass = {molar!r}', file=out)
        ratio = (c + h / 4 - o / 2) / 0.20946 * 28.9647 / (12.011 * c + 1.008 * h + 15.999 * o)
        print(f"air_fuel_ratio = {ratio!r}", file=out)
        formation = chemicals.Hfl(cas)
        if formation is not None:
            heat = -(c * CO2 + h / 2 * WATER - formation) / (molar / 1000)
            print(f"lower_heating_value = {heat!r}", file=out)
        if fluid:
            try:
                density = PropsSI("D", "T", 288.15, "P", 101325.0, fluid)
                latent = PropsSI("H", "T", 298.15, "Q", 1, fluid) - PropsSI("H", "T", 298.15, "Q", 0, fluid)
                print(f"density = {density!r}\nheat_of_vaporisation = {latent!r}", file=out)
            except ValueError:
                print("# no such fluid in CoolProp", file=out)


if __name__ == "__main__":
    with open(sys.argv[1] if len(sys.argv) > 1 else "fixtures/fuels/neat.toml", "w", encoding="utf-8") as file:
        main(file)
