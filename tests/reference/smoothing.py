"""Penalised splines and Savitzky-Golay values by numpy and scipy: writes fixtures/smoothing/*.toml and
crates/fairpull-uncertainty/tests/longley.txt (Longley's data as statsmodels ships them).

python -m venv V && V/bin/pip install numpy scipy statsmodels && V/bin/python tests/reference/smoothing.py
"""
import pathlib

import numpy as np
import scipy
from scipy.interpolate import BSpline
from scipy.optimize import minimize_scalar
from scipy.signal import savgol_filter

ROOT = pathlib.Path(__file__).resolve().parents[2]
OUT = ROOT / "fixtures" / "smoothing"
OUT.mkdir(parents=True, exist_ok=True)


def numbers(x):
    return "[" + ", ".join(repr(float(v)) for v in x) + "]"


# --- quartic P-spline, third differences, penalty by restricted maximum likelihood (dense algebra) ---
rng = np.random.default_rng(20260511)
n, intervals, degree, order = 240, 40, 4, 3
t = np.cumsum(0.02 * rng.uniform(0.8, 1.2, n))
y = np.round(15.0 + 4.0 * t + 1.5 * np.sin(1.4 * t) + 0.02 * rng.standard_normal(n), 4)
t = np.round(t, 4)
width = (t[-1] - t[0]) / intervals
knots = t[0] + width * np.arange(-degree, intervals + degree + 1)
p = intervals + degree
basis = [BSpline(knots, np.eye(p)[j], degree, extrapolate=True) for j in range(p)]
B = np.column_stack([b(t) for b in basis])
D = np.diff(np.eye(p), order, axis=0)
S = D.T @ D


def criterion(log_weight):
    A = B.T @ B + np.exp(log_weight) * S
    c = np.linalg.solve(A, B.T @ y)
    pss = float(np.sum((y - B @ c) ** 2) + np.exp(log_weight) * np.sum((D @ c) ** 2))
    free = n - order
    return free * np.log(pss / free) + np.linalg.slogdet(A)[1] - (p - order) * log_weight


best = minimize_scalar(criterion, bounds=(-8, 18), method="bounded", options={"xatol": 1e-10})
A = B.T @ B + np.exp(best.x) * S
c = np.linalg.solve(A, B.T @ y)
pss = float(np.sum((y - B @ c) ** 2) + np.exp(best.x) * np.sum((D @ c) ** 2))
variance = pss / (n - order)
at = np.linspace(t[0] + 0.05, t[-1] - 0.05, 23)
V = np.column_stack([b(at) for b in basis])
G = np.column_stack([b.derivative()(at) for b in basis])
C = np.linalg.inv(A)
lines = [
    "# Quartic P-spline with third differences and REML, by dense algebra: tests/reference/smoothing.py",
    f'source = "numpy {np.__version__}, scipy {scipy.__version__}: BSpline, minimize_scalar"',
    f"knot_width = {float(width)!r}",
    f"t = {numbers(t)}",
    f"y = {numbers(y)}",
    f"log_penalty = {float(best.x)!r}",
    f"noise = {float(np.sqrt(variance))!r}",
    f"effective_parameters = {float(np.trace(C @ B.T @ B))!r}",
    f"at = {numbers(at)}",
    f"value = {numbers(V @ c)}",
    f"slope = {numbers(G @ c)}",
    f"slope_deviation = {numbers(np.sqrt(variance * np.einsum('ij,jk,ik->i', G, C, G)))}",
    f"slope_noise = {numbers(np.sqrt(variance * np.einsum('ij,jk,ik->i', G, C @ B.T @ B @ C, G)))}",
]
(OUT / "penalised.toml").write_text("\n".join(lines) + "\n")

# --- Savitzky-Golay, for the textbook pipeline of the campaign ---
y10 = [2, 2.3, 2.1, 2.9, 3.6, 3.5, 4.4, 5.2, 5.1, 6.3]
(OUT / "savitzky_golay.toml").write_text(
    "# Savitzky-Golay slope, quadratic, window 5, step 0.1: tests/reference/smoothing.py\n"
    f'source = "scipy {scipy.__version__}: signal.savgol_filter(y, 5, 2, deriv=1, delta=0.1)"\n'
    f"y = {numbers(y10)}\nslope = {numbers(savgol_filter(y10, 5, 2, deriv=1, delta=0.1))}\n"
)

try:
    import statsmodels
    from statsmodels.datasets import longley

    data = longley.load_pandas().data
    rows = [
        f"# Longley (J. Am. Statist. Ass. 62, 1967), as statsmodels {statsmodels.__version__} ships it:",
        "# " + " ".join(data.columns),
    ]
    rows += [" ".join(repr(float(v)) for v in r) for r in data.to_numpy()]
    (ROOT / "crates/fairpull-uncertainty/tests/longley.txt").write_text("\n".join(rows) + "\n")
except ImportError:
    print("statsmodels is missing: longley.txt left as it is")
