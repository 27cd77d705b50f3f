#!/usr/bin/env python3
"""Reference posteriors of the settings of growth for made-up rooms, by the no-U-turn sampler of numpyro.

Run:  python3 nuts.py one|two|felt   (needs numpy, jax, numpyro; versions in README.md)
Makes the room's checks, checks_<room>.csv, samples, and writes posterior_<room>.csv. Fixed seeds. Millimetres, weeks.

Every female of these rooms grows from the opening of each cycle on:
  size at the opening ~ N(start, start_spread^2), anew in each cycle;
  rate of a cycle = rate + N(0, female_spread^2) of the female + N(0, season_spread^2) of the cycle;
  dx = rate dt + wobble dW;  scan = x + N(0, scan^2);
  felt = the class that holds x + N(0, (2 blur)^2), cuts at 8, 17, 27 and 36 mm, the ends open.
Sizes and rates are integrated out: all that is seen of a female is one multivariate normal vector. What was felt is a
coordinate of it known to lie between two cuts, sampled beside the settings.
"""
import sys

import jax
import jax.numpy as jnp
import numpy as np
import numpyro
import numpyro.distributions as dist
from numpyro.diagnostics import summary
from numpyro.infer import MCMC, NUTS

jax.config.update("jax_enable_x64", True)

# Priors: normal for rate and start, normal on the logarithm for the rest; (mean, spread) on that scale.
PRIORS = dict(
    rate=(2.0, 1.0), female_spread=(np.log(0.5), 0.5), season_spread=(np.log(0.3), 0.5), wobble=(np.log(0.4), 0.5),
    scan=(np.log(1.3), 0.3), start=(8.0, 3.0), start_spread=(np.log(2.0), 0.4), blur=(0.0, 0.4),
)
PLAIN = ("rate", "start")
CUTS = np.array([-np.inf, 8.0, 17.0, 27.0, 36.0, np.inf])
# Invented constants, number of females, seed, share of checks that are felt.
ROOMS = {
    "one": (dict(rate=1.9, female_spread=0.5, season_spread=0.35, wobble=0.5, scan=1.4, start=8.5, start_spread=1.8), 40, 11, 0.0),
    "two": (dict(rate=2.3, female_spread=0.35, season_spread=0.3, wobble=0.35, scan=1.1, start=7.0, start_spread=1.5), 80, 12, 0.0),
    "felt": (dict(rate=2.1, female_spread=0.45, season_spread=0.3, wobble=0.4, scan=1.3, start=8.0, start_spread=1.6, blur=1.2), 60, 13, 0.4),
}
DRAWS, WARM, CHAINS = 2000, 800, 4


def make(room):
    """Rows of female, season, day, scan, from, to; each female has one to three cycles of four to seven checks."""
    h, n, seed, felt = ROOMS[room]
    r, rows = np.random.default_rng(seed), []
    for female in range(n):
        own = h["rate"] + r.normal(0, h["female_spread"])
        for season in range(int(r.integers(1, 4))):
            x, rate, day = r.normal(h["start"], h["start_spread"]), own + r.normal(0, h["season_spread"]), 0
            for check in range(int(r.integers(4, 8))):
                gap = 0 if check == 0 else int(r.integers(7, 21))
                day += gap
                x += rate * gap / 7 + r.normal(0, h["wobble"] * np.sqrt(gap / 7)) if gap else 0.0
                if r.random() < felt:
                    k = int(np.searchsorted(CUTS, x + r.normal(0, 2 * h["blur"]), side="right")) - 1
                    rows.append((female, season, day, np.nan, CUTS[k], CUTS[k + 1]))
                else:
                    rows.append((female, season, day, round(max(x + r.normal(0, h["scan"]), 0.0), 1), np.nan, np.nan))
    with open(f"checks_{room}.csv", "w") as out:
        out.write("female,season,day,scan,from,to\n")
        for row in rows:
            out.write(",".join("" if isinstance(c, float) and np.isnan(c) else f"{c:g}" for c in row) + "\n")
    return np.array(rows, dtype=float)


def laid_out(rows):
    """Females by checks, padded: week, cycle, scan, whether there is one, whether felt, and the cuts."""
    females = [rows[rows[:, 0] == f] for f in np.unique(rows[:, 0])]
    most = max(len(f) for f in females)
    out = {k: np.zeros((len(females), most)) for k in ("week", "season", "scan", "there", "felt", "low", "high")}
    for i, f in enumerate(females):
        n, seen = len(f), np.isnan(f[:, 3])
        out["week"][i, :n], out["season"][i, :n], out["there"][i, :n] = f[:, 2] / 7, f[:, 1], 1
        out["scan"][i, :n], out["felt"][i, :n] = np.where(seen, 0, f[:, 3]), seen
        out["low"][i, :n], out["high"][i, :n] = np.where(seen, f[:, 4], 0), np.where(seen, f[:, 5], 1)
    return out


def log_density(h, d, values):
    """Logarithm of the density of all that was seen, females independent of each other."""
    t, s, m = d["week"], d["season"], d["there"]
    pair = m[:, :, None] * m[:, None, :]
    same = (s[:, :, None] == s[:, None, :]) * pair
    tt, least = t[:, :, None] * t[:, None, :], jnp.minimum(t[:, :, None], t[:, None, :])
    error = jnp.where(d["felt"] > 0, (2 * h.get("blur", 1.0)) ** 2, h["scan"] ** 2)
    v = tt * (h["female_spread"] ** 2 * pair + h["season_spread"] ** 2 * same)
    v = v + same * (h["start_spread"] ** 2 + h["wobble"] ** 2 * least)
    v = v + jnp.eye(t.shape[1]) * jnp.where(m > 0, error, 1.0)[:, None, :]
    off = (values - h["start"] - h["rate"] * t) * m
    c = jnp.linalg.cholesky(v)
    u = jax.scipy.linalg.solve_triangular(c, off[:, :, None], lower=True)[:, :, 0]
    logs = jnp.log(jnp.diagonal(c, axis1=1, axis2=2)).sum()
    return -0.5 * (u * u).sum() - logs - 0.5 * m.sum() * jnp.log(2 * jnp.pi)


def model(d, felt_at, low, high):
    """Settings on the scale of their priors, in units of the prior; felt values inside their cuts."""
    h = {}
    for name, (mean, spread) in PRIORS.items():
        if name == "blur" and len(felt_at[0]) == 0:
            continue
        at = numpyro.sample(name, dist.Normal(mean, spread))
        h[name] = at if name in PLAIN else jnp.exp(at)
    values = d["scan"]
    if len(felt_at[0]):
        z = numpyro.sample("z", dist.ImproperUniform(dist.constraints.real, (), (len(low),)))
        # A closed class by the logistic function, an open one by the exponential; with the volume of the change.
        closed = np.isfinite(low) & np.isfinite(high)
        lo, hi = np.where(np.isfinite(low), low, 0.0), np.where(np.isfinite(high), high, 0.0)
        inside = lo + (hi - lo) * jax.nn.sigmoid(z)
        up, down = lo + jax.nn.softplus(z), hi - jax.nn.softplus(-z)
        felt = jnp.where(closed, inside, jnp.where(np.isinf(high), up, down))
        volume = jnp.where(closed, jnp.log(jnp.where(closed, hi - lo, 1.0)) + jax.nn.log_sigmoid(z) + jax.nn.log_sigmoid(-z),
                           jnp.where(np.isinf(high), jax.nn.log_sigmoid(z), jax.nn.log_sigmoid(-z)))
        numpyro.factor("volume", volume.sum())
        values = values.at[felt_at].set(felt) if hasattr(values, "at") else jnp.asarray(values).at[felt_at].set(felt)
    numpyro.factor("seen", log_density(h, d, values))


def main(room):
    d = laid_out(make(room))
    felt_at = np.nonzero(d["felt"])
    low, high = d["low"][felt_at], d["high"][felt_at]
    kernel = NUTS(model, target_accept_prob=0.9)
    run = MCMC(kernel, num_warmup=WARM, num_samples=DRAWS, num_chains=CHAINS, chain_method="sequential", progress_bar=False)
    run.run(jax.random.PRNGKey(1), d, felt_at, low, high)
    draws = {k: np.asarray(v) for k, v in run.get_samples(group_by_chain=True).items() if k != "z"}
    with open(f"posterior_{room}.csv", "w") as out:
        out.write("parameter,mean,sd,ess,r_hat,value_mean,value_sd,truth\n")
        for name, s in draws.items():
            q = summary({name: s})[name]
            value = s if name in PLAIN else np.exp(s)
            cells = [q["mean"], q["std"], q["n_eff"], q["r_hat"], value.mean(), value.std(), ROOMS[room][0][name]]
            out.write(name + "," + ",".join(f"{float(c):.6g}" for c in cells) + "\n")
            assert q["n_eff"] >= 2000 and q["r_hat"] < 1.01, (name, q)


if __name__ == "__main__":
    main(sys.argv[1])
