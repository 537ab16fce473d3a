"""Least-squares trims within their range, by SciPy's lsq_linear (bounded-variable least squares).

min sum_i (gamma_i + sum_{k on i} delta_k - mu)^2 + penalty sum_k delta_k^2,  low <= delta <= high,
mu free. Random problems (seed fixed): one trim a stand or one a section, both ends known, only the
upper one (trims that only attenuate), or none. Rows of the CSV: case, stands, by_section, penalty,
then gammas; then low; then high; then the deltas found. Run: python3 bounded_least_squares.py >
bounded_least_squares.csv
"""

import numpy as np
import scipy
from scipy.optimize import lsq_linear


def solve(gamma, pairs, penalty, low, high):
    n = len(gamma)
    k = n // 2 if pairs else n
    acts = np.zeros((n, k))
    for i in range(n):
        acts[i, i // 2 if pairs else i] = 1.0
    a = np.vstack([np.hstack([acts, -np.ones((n, 1))]), np.hstack([np.sqrt(penalty) * np.eye(k), np.zeros((k, 1))])])
    y = np.concatenate([-gamma, np.zeros(k)])
    result = lsq_linear(a, y, bounds=(np.append(low, -np.inf), np.append(high, np.inf)), method="bvls", tol=1e-15)
    return result.x[:k]


def row(values):
    return ",".join("%.17g" % v for v in values)


def main():
    rng = np.random.default_rng(20)
    print("# SciPy %s, numpy %s; lsq_linear, method bvls" % (scipy.__version__, np.__version__))
    for case in range(60):
        n = int(rng.choice([4, 6, 8, 12, 16]))
        pairs = case % 3 == 2
        k = n // 2 if pairs else n
        gamma = rng.normal(0.0, 3.0, n)  # parts of a thousand
        gamma -= gamma.mean()
        penalty = float(rng.choice([1e-3, 1e-2, 1e-1]))
        kind = case % 4
        low = np.full(k, -np.inf) if kind in (1, 3) else rng.uniform(-4.0, 0.0, k)
        high = np.full(k, np.inf) if kind == 3 else (np.zeros(k) if kind == 1 else rng.uniform(0.0, 4.0, k))
        delta = solve(gamma, pairs, penalty, low, high)
        print("%d,%d,%d,%.17g" % (case, n, pairs, penalty))
        for values in (gamma, low, high, delta):
            print(row(values))


main()
