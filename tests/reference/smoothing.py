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

# --- the same with noise that is correlated from sample to sample, a gap, and a penalty that eases at the start ---
def correlated(seed, rho_true, bend):
    rng = np.random.default_rng(seed)
    n = 260
    steps = 0.02 * rng.uniform(0.85, 1.15, n)
    steps[150] = 0.11
    t = np.round(np.cumsum(steps), 4)
    e = np.zeros(n)
    for i in range(n):
        e[i] = (rho_true * e[i - 1] if i else 0.0) + np.sqrt(1 - rho_true**2) * 0.02 * rng.standard_normal()
    soft = 0.06 * np.logaddexp(0.0, (t - 0.25) / 0.06)
    y = np.round(12.0 + 3.0 * t + bend * soft + 0.4 * np.sin(1.1 * t) + e, 5)
    finest = 0.1
    span = t[-1] - t[0]
    intervals = int(min(min(max(np.ceil(span / finest), 4), 60), max(n // 3, 4)))
    width = span / intervals
    knots = t[0] + width * np.arange(-degree, intervals + degree + 1)
    p = intervals + degree
    basis = [BSpline(knots, np.eye(p)[j], degree, extrapolate=True) for j in range(p)]
    B = np.column_stack([b(t) for b in basis])
    D = np.diff(np.eye(p), order, axis=0)
    usual = np.sort(np.diff(t))[(n - 1) // 2]
    cell = np.minimum(((t - t[0]) / width).astype(int), intervals - 1)
    fade = np.exp(-12.0 * np.arange(p - order) / (p - order))

    def whitened(rho):
        X, v, log_noise = B.copy(), y.copy(), 0.0
        for i in range(1, n):
            step = (t[i] - t[i - 1]) / usual
            if rho > 0 and step < 1.6 and cell[i] - cell[i - 1] <= 1:
                r = rho**step
                s = 1 / np.sqrt(1 - r * r)
                X[i], v[i] = s * (B[i] - r * B[i - 1]), s * (y[i] - r * y[i - 1])
                log_noise -= 2 * np.log(s)
        return X, v, log_noise

    def best(rho, ease):
        X, v, log_noise = whitened(rho)
        W = np.exp(-ease * fade)
        S = D.T @ (W[:, None] * D)

        def parts(log_weight):
            A = X.T @ X + np.exp(log_weight) * S
            c = np.linalg.solve(A, X.T @ v)
            pss = float(np.sum((v - X @ c) ** 2) + np.exp(log_weight) * np.sum(W * (D @ c) ** 2))
            return A, c, pss / (n - order), X

        def criterion(log_weight):
            A, _, variance, _ = parts(log_weight)
            return (
                (n - order) * np.log(variance)
                + np.linalg.slogdet(A)[1]
                - (p - order) * log_weight
                + log_noise
                + ease * fade.sum()
            )

        scan = min(np.arange(-14, 20.1, 0.5), key=criterion)
        at = minimize_scalar(criterion, bounds=(scan - 1, scan + 1), method="bounded", options={"xatol": 1e-10}).x
        return criterion(at), at, parts(at)

    kinds = [0.0, 0.2, 0.4, 0.6, 0.75, 0.87]
    even = [best(rho, 0.0) for rho in kinds]
    kind = 0
    for m in range(1, 6):
        if even[m][0] < even[kind][0] - 2:
            kind = m
    lowest, at, found = even[kind]
    ease = 0.0
    for g in (3.0, 6.0, 9.0):
        here = best(kinds[kind], g)
        if here[0] < lowest - 2:
            (lowest, at, found), ease = here, g
    A, c, variance, X = found
    C = np.linalg.inv(A)
    places = np.concatenate([[t[0], t[-1]], np.linspace(t[0] + 0.03, t[-1] - 0.03, 21)])
    V = np.column_stack([b(places) for b in basis])
    G = np.column_stack([b.derivative()(places) for b in basis])
    H = C @ X.T @ X @ C
    width_of = lambda M, K: numbers(np.sqrt(variance * np.einsum("ij,jk,ik->i", M, K, M)))
    return [
        "[[case]]",
        f"t = {numbers(t)}",
        f"y = {numbers(y)}",
        f"finest = {finest}",
        f"correlation = {kinds[kind]}",
        f"ease = {ease}",
        f"log_penalty = {float(at)!r}",
        f"noise = {float(np.sqrt(variance))!r}",
        f"effective_parameters = {float(np.trace(C @ X.T @ X))!r}",
        f"at = {numbers(places)}",
        f"value = {numbers(V @ c)}",
        f"slope = {numbers(G @ c)}",
        f"value_deviation = {width_of(V, C)}",
        f"slope_deviation = {width_of(G, C)}",
        f"slope_noise = {width_of(G, H)}",
    ]


lines = [
    "# Quartic P-splines of correlated samples with a gap, some eased at the start: tests/reference/smoothing.py",
    f'source = "numpy {np.__version__}, scipy {scipy.__version__}: BSpline, minimize_scalar"',
]
for seed, rho, bend in [(1, 0.0, 0.0), (2, 0.7, 0.0), (3, 0.0, 4.0), (4, 0.45, 6.0)]:
    lines += correlated(seed, rho, bend)
(OUT / "correlated.toml").write_text("\n".join(lines) + "\n")

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
