#!/usr/bin/env python3
"""Reference values for the effects engines, from general-purpose libraries.

Run:  python3 generate.py && Rscript generate.R   (versions in README.md)
Writes records.csv and values.csv beside itself; generate.R adds values_r.csv and the data sets of lme4.
Fixed seeds; nothing was typed by hand.
"""
import os
os.environ["JAX_ENABLE_X64"] = "1"
import numpy as np
import pandas as pd
import scipy
from scipy import special, stats
import statsmodels.api as sm
from sklearn.linear_model import LogisticRegression
from lifelines import CoxPHFitter, KaplanMeierFitter

OUT = []


def tell(what, values, library):
    for i, v in enumerate(np.atleast_1d(np.asarray(values, dtype=float))):
        OUT.append((what, i, repr(float(v)), library))


def records(n=300, p=5):
    """Outcomes of every kind on the same covariates, with two groupings."""
    rng = np.random.default_rng(20260210)
    x = np.round(rng.normal(size=(n, p)), 3)
    female, season = rng.integers(0, 25, n), rng.integers(0, 6, n)
    u, s = rng.normal(0, 0.8, 25), rng.normal(0, 0.4, 6)
    eta = x @ np.array([0.8, -0.5, 0.3, 0, 0]) - 0.3
    y = (rng.random(n) < 1 / (1 + np.exp(-eta))).astype(int)
    trials = rng.integers(1, 9, n)
    hits = rng.binomial(trials, 1 / (1 + np.exp(-(eta + u[female] + s[season]))))
    z = np.round(2 + x[:, 0] * 0.4 + u[female] + s[season] + rng.normal(0, 1, n), 3)
    variance = np.round(rng.uniform(0.5, 3, n), 2)
    wait = rng.weibull(1.6, n) * 30 * np.exp(-0.3 * x[:, 0])
    censor = rng.uniform(10, 60, n)
    exit = np.ceil(np.minimum(wait, censor))
    event = (wait <= censor).astype(int)
    entry = np.minimum(np.floor(rng.uniform(-15, 12, n)).clip(0), exit - 1)
    d = pd.DataFrame(x, columns=[f"x{i}" for i in range(p)])
    d["female"], d["season"], d["y"], d["hits"], d["trials"] = female, season, y, hits, trials
    d["z"], d["variance"], d["entry"], d["exit"], d["event"] = z, variance, entry.astype(int), exit.astype(int), event
    d.to_csv("records.csv", index=False)
    return d, [f"x{i}" for i in range(p)]


def logistic(d, xs):
    x, y = d[xs].values, d["y"].values
    fit = sm.Logit(y, sm.add_constant(x)).fit(disp=0, tol=1e-14, maxiter=100)
    tell("logit", fit.params, "statsmodels")
    tell("logit_error", fit.bse, "statsmodels")
    tell("logit_log_likelihood", fit.llf, "statsmodels")
    ridge = LogisticRegression(C=0.5, solver="newton-cholesky", tol=1e-14, max_iter=500).fit(x, y)
    tell("ridge", np.r_[ridge.intercept_, ridge.coef_[0]], "scikit-learn")
    glm = sm.GLM(np.c_[d["hits"], d["trials"] - d["hits"]], sm.add_constant(x), sm.families.Binomial()).fit(tol=1e-14)
    tell("binomial", glm.params, "statsmodels")
    # Levels of spread s are columns of zeros and s with a ridge of 1: every precision then is 1.
    columns = [d[xs].values]
    for name, spread in (("female", 0.9), ("season", 0.5)):
        columns.append(np.eye(d[name].max() + 1)[d[name]] * spread)
    rows = np.c_[np.ones(len(d)), np.hstack(columns)]
    hits, misses = d["hits"].values, (d["trials"] - d["hits"]).values
    both = np.vstack([rows, rows])
    what = np.r_[np.ones(len(d)), np.zeros(len(d))]
    weight = np.r_[hits, misses]
    joint = LogisticRegression(C=1.0, solver="newton-cholesky", tol=1e-14, max_iter=500, fit_intercept=False)
    joint.fit(both[weight > 0], what[weight > 0], sample_weight=weight[weight > 0])
    tell("mixed_logistic_at_spreads", joint.coef_[0][: len(xs) + 1], "scikit-learn")


def survival(d, xs):
    cox = CoxPHFitter().fit(d[xs + ["exit", "event"]], "exit", "event", fit_options={"precision": 1e-14})
    tell("cox", cox.params_.values, "lifelines")
    ph = sm.PHReg(d["exit"], d[xs], d["event"], ties="efron").fit(disp=0)
    tell("cox", ph.params, "statsmodels")
    km = KaplanMeierFitter().fit(d["exit"], d["event"])
    at = np.unique(d["exit"][d["event"] == 1])
    tell("km_time", at, "lifelines")
    tell("km", km.survival_function_at_times(at).values, "lifelines")
    bounds = km.confidence_interval_.loc[at].values
    tell("km_low", bounds[:, 0], "lifelines")
    tell("km_high", bounds[:, 1], "lifelines")
    late = KaplanMeierFitter().fit(d["exit"], d["event"], entry=d["entry"])
    tell("km_late", late.survival_function_at_times(at).values, "lifelines")


def distributions():
    for t in (-6.5, -2.0, -0.3, 0.0, 0.7, 2.5, 12.0):
        for df in (1, 2.5, 9, 120):
            tell("student", [t, df, stats.t.cdf(t, df)], "scipy")
    for x in (0.001, 0.05, 0.3, 0.5, 0.92, 0.999):
        for a, b in ((0.3, 4.0), (1, 1), (2.5, 0.7), (30, 12), (400, 900)):
            tell("beta", [x, a, b, special.betainc(a, b, x)], "scipy")
    for x in (1e-3, 0.2, 1, 2.5, 11.9, 80, 4e4):
        tell("ln_gamma", [x, special.gammaln(x)], "scipy")


def rates():
    """Nine males; the posterior on a grid of 400 x 400 points in the middles of their cells."""
    k, n = np.array([4, 0, 11, 7, 2, 9, 1, 16, 5]), np.array([12, 5, 20, 31, 4, 22, 14, 40, 9])
    share = (np.arange(400) + 0.5) / 400
    mean, total = np.meshgrid(share, share**-2.0, indexing="ij")
    a, b = mean * total, (1 - mean) * total
    log = sum(special.betaln(a + ki, b + ni - ki) - special.betaln(a, b) for ki, ni in zip(k, n))
    w = np.exp(log - log.max())
    w /= w.sum()
    keep = w > 1e-10
    a, b, w = a[keep], b[keep], w[keep] / w[keep].sum()
    for i, (ki, ni) in enumerate(zip(k, n)):
        def below(x):
            return float((w * special.betainc(a + ki, b + ni - ki, x)).sum()) 
        ends = [scipy.optimize.brentq(lambda x, q=q: below(x) - q, 1e-9, 1 - 1e-9) for q in (0.1, 0.9)]
        tell("rates", [ki, ni, float((w * (a + ki) / (a + b + ni)).sum()), *ends], "scipy")


def posteriors(d):
    """Both mixed models by Hamiltonian Monte Carlo, under the same priors. The first 90 records."""
    import jax.numpy as jnp
    import numpyro
    import numpyro.distributions as dist
    from jax import random
    from numpyro.infer import MCMC, NUTS
    numpyro.set_host_device_count(2)
    d = d.head(90)
    x = d[["x0", "x1"]].values
    female, season = d["female"].values, d["season"].values

    def levels(name, count):
        spread = numpyro.sample(f"spread_{name}", dist.HalfNormal(1.0))
        with numpyro.plate(name, count):
            own = numpyro.sample(f"own_{name}", dist.Normal(0, 1))
        return spread * own

    def mean(z):
        sigma = jnp.exp(numpyro.sample("log_sigma", dist.ImproperUniform(dist.constraints.real, (), ())))
        flat = numpyro.sample("flat", dist.ImproperUniform(dist.constraints.real, (), ()))
        b = numpyro.sample("b", dist.Normal(0, 1).expand([2])) * sigma
        numpyro.deterministic("effect", b)
        mu = flat + x @ b + sigma * (levels("female", 25)[female] + levels("season", 6)[season])
        numpyro.sample("z", dist.Normal(mu, sigma * jnp.sqrt(d["variance"].values)), obs=z)

    def chance(hits):
        flat = numpyro.sample("flat", dist.Normal(0, 2.5))
        b = numpyro.sample("b", dist.Normal(0, 1).expand([2]))
        numpyro.deterministic("effect", b)
        eta = flat + x @ b + levels("female", 25)[female] + levels("season", 6)[season]
        numpyro.sample("hits", dist.Binomial(d["trials"].values, logits=eta), obs=hits)

    for name, model, told in (("posterior_mixed", mean, d["z"].values), ("posterior_logistic", chance, d["hits"].values)):
        mcmc = MCMC(NUTS(model, target_accept_prob=0.95), num_warmup=2000, num_samples=20000, num_chains=2, progress_bar=False)
        mcmc.run(random.PRNGKey(20260210), told)
        e = np.asarray(mcmc.get_samples()["effect"])
        for i in range(2):
            tell(name, [e[:, i].mean(), e[:, i].std(), *np.quantile(e[:, i], [0.025, 0.1, 0.9, 0.975])], "numpyro")


def certified():
    """Data and certified values of the NIST StRD as statsmodels (Longley) and SciPy (Norris) carry them."""
    from statsmodels.datasets import longley
    from statsmodels.regression.tests.results.results_regression import Longley
    data = longley.load_pandas()
    d = data.exog.copy()
    d.insert(0, "y", data.endog)
    d.to_csv("longley.csv", index=False)
    # Certified order there: six covariates, then the intercept.
    tell("longley", Longley().params, "statsmodels")
    tell("longley_error", Longley().bse, "statsmodels")
    path = os.path.join(os.path.dirname(stats.__file__), "tests/data/nist_linregress/Norris.dat")
    lines = open(path).read().splitlines()
    rows = [tuple(map(float, l.split())) for l in lines[60:] if l.strip()]
    pd.DataFrame(rows, columns=["y", "x"]).to_csv("norris.csv", index=False)
    for name in ("B0", "B1"):
        line = next(l for l in lines if l.split()[:1] == [name])
        tell("norris", list(map(float, line.split()[1:3])), "scipy")


if __name__ == "__main__":
    d, xs = records()
    logistic(d, xs)
    survival(d, xs)
    distributions()
    rates()
    certified()
    posteriors(d)
    pd.DataFrame(OUT, columns=["what", "at", "value", "library"]).to_csv("values.csv", index=False)
    import sklearn, lifelines, numpyro, statsmodels, platform
    print(platform.python_version(), *(f"{m.__name__} {m.__version__}" for m in (np, scipy, statsmodels, sklearn, lifelines, numpyro)))
