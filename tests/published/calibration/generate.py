#!/usr/bin/env python3
"""Reference values for the scores of forecasts, from general-purpose libraries.

Run:  python3 generate.py   (needs numpy, scipy, statsmodels, scikit-learn; versions in README.md)
Writes the files beside itself that README.md lists. Fixed seed; nothing else is random.
"""
import numpy as np
import statsmodels.api as sm
from scipy import integrate, stats
from sklearn.metrics import brier_score_loss
from statsmodels.stats.proportion import proportion_confint


def write(name, head, rows):
    with open(name, "w") as out:
        out.write(head + "\n")
        for row in rows:
            out.write(",".join(x if isinstance(x, str) else repr(float(x)) for x in row) + "\n")


def wilson():
    rows = []
    for n in (1, 5, 22, 118, 2000):
        for held in sorted({0, 1, n // 2, int(0.8 * n), n - 1, n}):
            low, high = proportion_confint(held, n, alpha=0.05, method="wilson")
            rows.append((held, n, low, high))
    write("wilson.csv", "held,of,low,high", rows)


def by_definition(cdf, truth, low, high):
    """The integral that defines the score, in two parts, by adaptive quadrature."""
    lo, hi = min(low, truth), max(high, truth)
    a = integrate.quad(lambda x: cdf(x) ** 2, lo, truth, epsabs=1e-12, epsrel=1e-12, limit=400)[0]
    b = integrate.quad(lambda x: (cdf(x) - 1) ** 2, truth, hi, epsabs=1e-12, epsrel=1e-12, limit=400)[0]
    return a + b


def crps_normal():
    rows = []
    for mean, spread in ((0.0, 1.0), (24.0, 1.6), (61.0, 4.0)):
        for z in (-6.0, -2.5, -1.0, 0.0, 0.3, 1.7, 4.0):
            truth = mean + z * spread
            score = by_definition(stats.norm(mean, spread).cdf, truth, mean - 10 * spread, mean + 10 * spread)
            rows.append((mean, spread, truth, score))
    write("crps_normal.csv", "mean,spread,truth,crps", rows)


def crps_mixture():
    rng = np.random.default_rng(20260210)
    rows = []
    for case in range(12):
        n = int(rng.integers(2, 6))
        w, m, s = rng.dirichlet(np.ones(n)), rng.uniform(5, 45, n), rng.uniform(0.5, 6, n)
        truth = float(rng.uniform(0, 50))
        cdf = lambda x: float(np.sum(w * stats.norm.cdf(x, m, s)))
        score = by_definition(cdf, truth, -60.0, 110.0)
        parts = ";".join(f"{float(a)!r} {float(b)!r} {float(c)!r}" for a, b, c in zip(w, m, s))
        rows.append((parts, truth, score))
    write("crps_mixture.csv", "parts,truth,crps", rows)


def crps_counted():
    rows = []
    for mean in (3.0, 6.3):
        for truth in (0, 2, 6, 7, 15, 40):
            n = np.arange(0, 400)
            rows.append((mean, truth, np.sum((stats.poisson.cdf(n, mean) - (n >= truth)) ** 2)))
    write("crps_counted.csv", "mean,truth,crps", rows)


def even():
    rng = np.random.default_rng(3)
    rows = []
    for a, b, n in ((1, 1, 5), (1, 1, 200), (2, 2, 60), (0.5, 0.8, 60), (3, 1, 17)):
        pits = rng.beta(a, b, n)
        rows.append((" ".join(repr(float(p)) for p in pits), stats.kstest(pits, "uniform").statistic))
    write("even.csv", "pits,distance", rows)


def brier():
    rng = np.random.default_rng(4)
    rows = []
    for n in (1, 7, 50):
        p, came = rng.uniform(0, 1, n), rng.integers(0, 2, n)
        score = brier_score_loss(came, p, labels=[0, 1]) if n > 1 else (p[0] - came[0]) ** 2
        rows.append(("two", " ".join(repr(float(x)) for x in p), " ".join(map(str, came)), score))
    for n in (6, 40):
        p, came = rng.dirichlet(np.ones(3), n), np.concatenate([[0, 1, 2], rng.integers(0, 3, n - 3)])
        score = brier_score_loss(came, p, labels=[0, 1, 2], scale_by_half=False)
        rows.append(("three", " ".join(repr(float(x)) for x in p.ravel()), " ".join(map(str, came)), score))
    write("brier.csv", "outcomes,chances,came,score", rows)


def clustered():
    """Weighted mean with the standard error for clusters: statsmodels' WLS on a constant."""
    rng = np.random.default_rng(5)
    rows = []
    for sources in (3, 12, 40):
        source = np.repeat(np.arange(sources), rng.integers(1, 6, sources))
        own = rng.beta(8, 2, sources)[source]
        held = np.where(rng.uniform(size=len(source)) < 0.2, rng.uniform(size=len(source)), rng.uniform(size=len(source)) < own)
        weight = np.where(rng.uniform(size=len(source)) < 0.3, rng.uniform(0.2, 1, len(source)), 1.0)
        fit = sm.WLS(held, np.ones(len(source)), weights=weight).fit()
        # statsmodels multiplies by (N-1)/(N-K), 1 for a constant alone, and by G/(G-1).
        fit = fit.get_robustcov_results("cluster", groups=source)
        cells = [" ".join(map(str, source))] + [" ".join(repr(float(x)) for x in v) for v in (weight, held)]
        rows.append((*cells, fit.params[0], fit.bse[0]))
    write("clustered.csv", "source,weight,held,share,error", rows)


def weighted_quantile():
    rng = np.random.default_rng(6)
    rows = []
    for n in (1, 2, 9, 30):
        x, w = rng.gamma(2, 1, n), rng.uniform(0, 1, n)
        for q in (0.1, 0.5, 0.8, 1.0):
            value = np.quantile(x, q, weights=w, method="inverted_cdf")
            rows.append((" ".join(repr(float(v)) for v in x), " ".join(repr(float(v)) for v in w), q, value))
    write("weighted_quantile.csv", "values,weights,share,value", rows)


if __name__ == "__main__":
    for make in (wilson, crps_normal, crps_mixture, crps_counted, even, brier, clustered, weighted_quantile):
        make()
