#!/usr/bin/env python3
"""Reference values for the follicle forecast, from general-purpose libraries.

Run:  python3 generate.py   (needs numpy, scipy, statsmodels, filterpy; versions in README.md)
Writes first_passage.csv, normal.csv and one_track.csv beside itself. Fixed seed; nothing else is random.
"""
import numpy as np
from scipy.stats import invgauss, norm
from filterpy.kalman import KalmanFilter
from statsmodels.tsa.statespace.kalman_filter import KalmanFilter as StateSpace


def first_passage():
    """Distance a, drift v, wobble s: inverse Gaussian with mean a/v and shape a^2/s^2."""
    rows = []
    for a in (0.25, 2.0, 10.0, 22.0):
        for v in (0.4, 1.0, 2.0, 3.0):
            for s in (0.2, 0.5, 1.2):
                for t in (0.25, 1.0, 3.0, 6.0, 12.0, 30.0):
                    mean, shape = a / v, (a / s) ** 2
                    rows.append((a, v, s, t, invgauss.cdf(t, mean / shape, scale=shape)))
    with open("first_passage.csv", "w") as out:
        out.write("distance,rate,wobble,weeks,chance\n")
        for r in rows:
            out.write(",".join(repr(float(x)) for x in r) + "\n")


def normal():
    with open("normal.csv", "w") as out:
        out.write("z,below\n")
        for z in np.concatenate([np.linspace(-9, 9, 73), [-36.0, -20.0, -12.5, 12.5]]):
            out.write(f"{float(z)!r},{float(norm.cdf(z))!r}\n")


def one_track():
    """Size and own rate by a Kalman filter: scans at uneven gaps, the prior of one growing track."""
    rng = np.random.default_rng(20260210)
    mean, cov, wobble, error = np.array([9.0, 2.0]), np.diag([6.25, 0.49]), 0.5, 1.5**2
    with open("one_track.csv", "w") as out:
        out.write("female,gap_weeks,scan,size,rate,var_size,cov,var_rate,library\n")
        for female in range(12):
            n = int(rng.integers(3, 10))
            gaps = np.round(rng.uniform(0.5, 4.0, n) * 7) / 7
            scans = np.round(9 + 2 * np.cumsum(gaps) + rng.normal(0, 2, n), 1)
            for name, states in (("filterpy", by_filterpy), ("statsmodels", by_statsmodels)):
                for gap, scan, (m, p) in zip(gaps, scans, states(mean, cov, wobble, error, gaps, scans)):
                    row = [gap, scan, m[0], m[1], p[0, 0], p[0, 1], p[1, 1]]
                    out.write(f"{female}," + ",".join(repr(float(x)) for x in row) + f",{name}\n")


def by_filterpy(mean, cov, wobble, error, gaps, scans):
    k = KalmanFilter(dim_x=2, dim_z=1)
    k.x, k.P, k.H, k.R = mean.reshape(2, 1).copy(), cov.copy(), np.array([[1.0, 0.0]]), np.array([[error]])
    for gap, scan in zip(gaps, scans):
        k.predict(F=np.array([[1, gap], [0, 1.0]]), Q=np.array([[wobble**2 * gap, 0], [0, 0.0]]))
        k.update(scan)
        yield k.x.ravel().copy(), k.P.copy()


def by_statsmodels(mean, cov, wobble, error, gaps, scans):
    n = len(scans)
    k = StateSpace(1, 2)
    k.bind(np.concatenate([[np.nan], scans]).reshape(1, -1))
    t, q = np.zeros((2, 2, n + 1)), np.zeros((2, 2, n + 1))
    t[0, 0], t[1, 1], t[0, 1, :-1], q[0, 0, :-1] = 1, 1, gaps, wobble**2 * gaps
    k["design"], k["transition"], k["selection"] = np.array([[1.0, 0.0]]), t, np.eye(2)
    k["state_cov"], k["obs_cov"] = q, np.array([[error]])
    k.initialize_known(mean, cov)
    r = k.filter()
    for i in range(1, n + 1):
        yield r.filtered_state[:, i], r.filtered_state_cov[:, :, i]


first_passage()
normal()
one_track()
