#!/usr/bin/env python3
"""Reference values for learning growth from many females, from general-purpose libraries.

Run:  python3 generate.py   (needs numpy, scipy, statsmodels, filterpy, pandas); then dense.py and mixed.R
Versions in README.md. Writes scans.csv, filter.csv, likelihood.csv, felt.csv and mixed_statsmodels.csv
beside itself. Fixed seed; nothing else is random. Millimetres and weeks.
"""
import numpy as np
from filterpy.kalman import KalmanFilter
from scipy.integrate import quad
from scipy.stats import norm, truncnorm
from statsmodels.tsa.statespace.kalman_filter import KalmanFilter as StateSpace

# Invented for the purpose; size at the opening and own rate of a female, wobble, error of a scan.
START, START_SPREAD, RATE, RATE_SPREAD, WOBBLE, SCAN = 6.0, 1.5, 1.9, 0.45, 0.4, 1.25
SHOWN = 20


def females(n=300, seed=1, weeks_seen=7.0):
    """Scans of n females that grow from the opening on; about 2.8 each, a few have none."""
    r, out = np.random.default_rng(seed), []
    for _ in range(n):
        start, rate = r.normal(START, START_SPREAD), max(0.6, r.normal(RATE, RATE_SPREAD))
        step = 1 / 28
        marks = int(40 / step)
        wobble = np.concatenate([[0], np.cumsum(r.normal(0, WOBBLE * np.sqrt(step), marks))])
        size = start + rate * step * np.arange(marks + 1) + wobble
        at = np.cumsum(r.uniform(0.7, 2.2, 12))
        at = np.round(at[at < weeks_seen] * 7) / 7  # whole days
        scans = []
        for t in at:
            x = size[int(round(t / step))]
            scanned = r.random() < 0.6
            seen = x + r.normal(0, SCAN if scanned else 2.5)  # what is felt is left out here
            if scanned:
                scans.append((float(t), round(float(seen), 1)))
        out.append(scans)
    return out


def by_filterpy(scans):
    k = KalmanFilter(dim_x=2, dim_z=1)
    k.x, k.P = np.array([[START], [RATE]]), np.diag([START_SPREAD**2, RATE_SPREAD**2])
    k.H, k.R = np.array([[1.0, 0.0]]), np.array([[SCAN**2]])
    before, log = 0.0, 0.0
    for t, y in scans:
        gap, before = t - before, t
        k.predict(F=np.array([[1, gap], [0, 1.0]]), Q=np.array([[WOBBLE**2 * gap, 0], [0, 0.0]]))
        k.update(y)
        log += k.log_likelihood
        yield k.x.ravel().copy(), k.P.copy(), log


def by_statsmodels(scans):
    n, times = len(scans), np.array([0.0] + [t for t, _ in scans])
    gaps = np.diff(times)
    k = StateSpace(1, 2)
    k.bind(np.array([np.nan] + [y for _, y in scans]).reshape(1, -1))
    t, q = np.zeros((2, 2, n + 1)), np.zeros((2, 2, n + 1))
    t[0, 0], t[1, 1], t[0, 1, :-1], q[0, 0, :-1] = 1, 1, gaps, WOBBLE**2 * gaps
    k["design"], k["transition"], k["selection"] = np.array([[1.0, 0.0]]), t, np.eye(2)
    k["state_cov"], k["obs_cov"] = q, np.array([[SCAN**2]])
    k.initialize_known(np.array([START, RATE]), np.diag([START_SPREAD**2, RATE_SPREAD**2]))
    k.loglikelihood_burn = 0
    r = k.filter()
    logs = np.cumsum(r.llf_obs)
    for i in range(1, n + 1):
        yield r.filtered_state[:, i], r.filtered_state_cov[:, :, i], logs[i]


def line(*cells):
    return ",".join(c if isinstance(c, str) else repr(float(c)) if isinstance(c, float) else str(c) for c in cells) + "\n"


def filters(room):
    with open("scans.csv", "w") as out:
        out.write("female,day,scan\n")
        for i, scans in enumerate(room):
            out.writelines(line(i, round(t * 7), y) for t, y in scans)
    with open("filter.csv", "w") as out:
        out.write("female,week,size,rate,var_size,cov,var_rate,log_likelihood,library\n")
        for name, run in (("filterpy", by_filterpy), ("statsmodels", by_statsmodels)):
            for i, scans in enumerate(room[:SHOWN]):
                for (t, _), (m, p, log) in zip(scans, run(scans)):
                    values = [float(x) for x in (m[0], m[1], p[0, 0], p[0, 1], p[1, 1], log)]
                    out.write(line(i, t, *values, name))
    with open("likelihood.csv", "w") as out:
        out.write("library,log_likelihood\n")
        for name, run in (("filterpy", by_filterpy), ("statsmodels", by_statsmodels)):
            out.write(line(name, float(sum(list(run(s))[-1][2] for s in room if s))))


def felt():
    """A normal size seen as a class through blur: chance, and mean and variance of size and rate afterwards.

    By adaptive quadrature over the size; the felt value itself is a truncated normal, whose mean and variance by
    scipy.stats.truncnorm must lead to the same moments, or the script stops.
    """
    with open("felt.csv", "w") as out:
        out.write("size,rate,var_size,cov,var_rate,from,to,blur,chance,size_after,var_after,rate_after,cov_after,var_rate_after\n")
        for x, v, xx, xv, vv in ((9.0, 2.0, 0.9, 0.1, 0.3), (16.0, 1.5, 2.0, 0.5, 0.35), (21.0, 2.4, 6.0, 1.1, 0.49),
                                 (31.0, 2.0, 0.5, 0.05, 0.06), (40.0, 1.8, 4.0, -0.3, 0.2)):
            for low, high in ((-np.inf, 8.0), (8.0, 17.0), (17.0, 27.0), (27.0, 36.0), (36.0, np.inf)):
                for blur in (1.0, 2.0, 3.5):
                    if abs(x - np.clip(x, low, high)) > 6 * np.sqrt(xx + blur**2):
                        continue  # quadrature has nothing left to hold on to
                    sd = np.sqrt(xx)

                    def share(s):
                        return norm.cdf((high - s) / blur) - norm.cdf((low - s) / blur) if s < low \
                            else norm.sf((low - s) / blur) - norm.sf((high - s) / blur)

                    def moment(power, about):
                        f = lambda s: (s - about) ** power * norm.pdf(s, x, sd) * share(s)
                        middle = float(np.clip(x, low, high))
                        nodes = [p for p in (low, high, x, middle) if np.isfinite(p) and abs(p - x) < 12 * sd]
                        return quad(f, x - 12 * sd, x + 12 * sd, points=nodes, epsabs=0, epsrel=1e-13, limit=400)[0]

                    chance = moment(0, 0.0)
                    mean = x + moment(1, x) / chance
                    var = moment(2, mean) / chance
                    spread = np.sqrt(xx + blur**2)
                    a, b = (low - x) / spread, (high - x) / spread
                    m1, v1 = truncnorm.stats(a, b, loc=x, scale=spread)
                    gain = xx / spread**2
                    assert abs(x + gain * (m1 - x) - mean) < 1e-7 * sd, (x, low, blur, m1, mean)
                    assert abs(xx - gain * xx + gain**2 * v1 - var) < 1e-6 * xx, (x, low, blur)
                    # The rate is tied to the size by regression alone.
                    along = xv / xx
                    rate, cov, vrate = v + along * (mean - x), along * var, vv - along * xv + along**2 * var
                    out.write(line(*[float(c) for c in (x, v, xx, xv, vv, low, high, blur, chance, mean, var, rate, cov, vrate)]))


def mixed(room):
    """Random intercept and slope by statsmodels, ML and REML: y ~ t + (t | female)."""
    import pandas as pd
    import statsmodels.formula.api as smf

    rows = [(i, t, y) for i, scans in enumerate(room) for t, y in scans]
    d = pd.DataFrame(rows, columns=["female", "week", "scan"])
    with open("mixed_statsmodels.csv", "w") as out:
        out.write("method,start,rate,start_spread,rate_spread,correlation,residual,log_likelihood\n")
        for method in ("ML", "REML"):
            r = smf.mixedlm("scan ~ week", d, groups="female", re_formula="~week").fit(
                reml=method == "REML", method=["lbfgs", "powell", "bfgs"], maxiter=20000)
            c = r.cov_re.values
            sd = np.sqrt(np.diag(c))
            values = [*r.fe_params.values, *sd, c[0, 1] / sd.prod(), np.sqrt(r.scale), r.llf]
            out.write(line(method, *[float(x) for x in values]))


if __name__ == "__main__":
    room = females()
    filters(room)
    felt()
    mixed(room)
