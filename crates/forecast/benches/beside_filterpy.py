"""Times filterpy and statsmodels on the scans the bench `beside_filterpy` reads.

Argument: the file of scans. Prints for each library its name, the median time in microseconds per female, and of every
female the size, the rate, their variances and covariance after her last scan, and the log likelihood.
"""

import statistics
import sys
import time

import numpy as np
from filterpy.kalman import KalmanFilter
from statsmodels.tsa.statespace.kalman_filter import KalmanFilter as StateSpace

MEAN, COVARIANCE, WOBBLE, ERROR = np.array([6.0, 1.9]), np.diag([1.5**2, 0.45**2]), 0.4, 1.25**2
rows = np.genfromtxt(sys.argv[1], delimiter=",", names=True)
females = [[(r["day"] / 7, r["scan"]) for r in rows[rows["female"] == f]] for f in range(300)]


def filterpy(scans):
    k = KalmanFilter(dim_x=2, dim_z=1)
    k.x, k.P, k.H, k.R = MEAN.reshape(2, 1).copy(), COVARIANCE.copy(), np.array([[1.0, 0.0]]), np.array([[ERROR]])
    before, log = 0.0, 0.0
    for week, scan in scans:
        gap, before = week - before, week
        k.predict(F=np.array([[1, gap], [0, 1.0]]), Q=np.array([[WOBBLE**2 * gap, 0], [0, 0.0]]))
        k.update(scan)
        log += k.log_likelihood
    return k.x.ravel(), k.P, log


def statsmodels(scans):
    n = len(scans)
    if n == 0:
        return MEAN, COVARIANCE, 0.0
    gaps = np.diff([0.0] + [week for week, _ in scans])
    k = StateSpace(1, 2)
    k.bind(np.array([np.nan] + [scan for _, scan in scans]).reshape(1, -1))
    t, q = np.zeros((2, 2, n + 1)), np.zeros((2, 2, n + 1))
    t[0, 0], t[1, 1], t[0, 1, :-1], q[0, 0, :-1] = 1, 1, gaps, WOBBLE**2 * gaps
    k["design"], k["transition"], k["selection"] = np.array([[1.0, 0.0]]), t, np.eye(2)
    k["state_cov"], k["obs_cov"] = q, np.array([[ERROR]])
    k.initialize_known(MEAN, COVARIANCE)
    k.loglikelihood_burn = 0
    r = k.filter()
    return r.filtered_state[:, -1], r.filtered_state_cov[:, :, -1], r.llf_obs.sum()


for of in (filterpy, statsmodels):
    of(females[0])
    micros = []
    for _ in range(5):
        start = time.perf_counter()
        done = [of(scans) for scans in females]
        micros.append((time.perf_counter() - start) / len(females) * 1e6)
    said = [v for m, p, log in done for v in (m[0], m[1], p[0, 0], p[0, 1], p[1, 1], log)]
    print(of.__name__, statistics.median(micros), *(repr(float(v)) for v in said))
