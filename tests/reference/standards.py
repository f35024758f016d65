"""Writes fixtures/standards/workshop-sheet.toml: the published factor table of a vehicle maker's workshop information
sheet, and the same 110 cells computed in decimal arithmetic.

    python3 tests/reference/standards.py > fixtures/standards/workshop-sheet.toml

Only Python's own `decimal` is used (28 digits, half-even), so nothing is shared with the code under test: neither
binary floating point nor a mathematical library.
"""

import platform
from decimal import Decimal, getcontext

# cells as printed on the sheet: hPa, degrees Celsius, factor
PRINTED = [
    (1040, 0, "0.9111"),
    (1000, 25, "0.9900"),
    (1000, 0, "0.9476"),
    (1015, 40, "0.9996"),
    (995, 50, "1.0359"),
    (1030, 40, "0.9851"),
]
PRESSURES = range(995, 1041, 5)
TEMPERATURES = range(0, 51, 5)


def cell(hpa, celsius):
    k = Decimal(990) / hpa * (Decimal(273 + celsius) / 298).sqrt()
    return k.quantize(Decimal("0.0001"))


print(f"""# Factor K_H of a published table. Written by tests/reference/standards.py.

[source]
document = "a vehicle maker's workshop information sheet (correction table, 110 cells)"
clause = "table of K_H, 995 to 1040 hPa in steps of 5, 0 to 50 degrees Celsius in steps of 5: 110 cells, 4 decimals"
grade = "read: six cells as printed stand in `printed`; that all 110 printed cells agree with the formula was noted when the sheet was read, but the other 104 were not copied"
call = "Decimal(990) / hpa * (Decimal(273 + celsius) / 298).sqrt(), quantize 0.0001; Python {platform.python_version()} decimal, {getcontext().prec} digits"
note = "`computed` is therefore a check of the arithmetic against decimal numbers, cell by cell, and of the printed table only in the six cells of `printed`"
""")
for hpa, celsius, text in PRINTED:
    assert str(cell(hpa, celsius)) == text, (hpa, celsius, text)
    print(f'[[printed]]\npressure_hpa = {hpa}.0\ntemperature_c = {celsius}.0\nfactor = "{text}"\n')
print("# rows by pressure in hPa, columns 0, 5 ... 50 degrees Celsius")
print("[computed]")
for hpa in PRESSURES:
    print(f"{hpa} = [" + ", ".join(f'"{cell(hpa, t)}"' for t in TEMPERATURES) + "]")
