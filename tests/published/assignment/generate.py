"""Optima of random assignment instances by SciPy's linear_sum_assignment.

Run once with the versions named in README.md; the output is kept beside this script:
    python generate.py > optima.csv
The instances are not stored: both sides draw them from the same SplitMix64 stream.
"""

import numpy as np
from scipy.optimize import linear_sum_assignment

MASK = (1 << 64) - 1


def splitmix64(seed):
    state = seed
    while True:
        state = (state + 0x9E3779B97F4A7C15) & MASK
        z = state
        z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & MASK
        z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & MASK
        yield z ^ (z >> 31)


def worth(kind, i, j, draw):
    if kind == "product":
        return (i % 7 + 1) * (j % 11 + 1) * 100 + draw % 50
    if kind == "uniform":
        return draw % 1000 + 1
    if kind == "ties":
        return draw % 4
    # sparse: four pairs of five are not planned
    return (draw >> 8) % 1000 + 1 if draw % 5 == 0 else 0


def main():
    print("kind,rows,columns,seed,optimum")
    shapes = [(1, 1), (1, 9), (9, 1), (5, 5), (8, 20), (20, 8), (30, 30), (40, 120), (120, 40), (100, 400)]
    for kind in ("uniform", "ties", "sparse", "product"):
        for rows, columns in shapes:
            for seed in (1, 2, 3):
                stream = splitmix64(seed)
                w = np.array([worth(kind, k // columns, k % columns, next(stream)) for k in range(rows * columns)])
                w = w.reshape(rows, columns)
                i, j = linear_sum_assignment(w, maximize=True)
                print(f"{kind},{rows},{columns},{seed},{w[i, j].sum()}")


if __name__ == "__main__":
    main()
