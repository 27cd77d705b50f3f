#!/usr/bin/env python3
"""Reference posteriors of the settings of growth for made-up rooms, by the no-U-turn sampler of numpyro.

Run:  python3 nuts.py one|two   (needs numpy, jax, numpyro; versions in README.md)
Makes the room's checks, checks_<room>.csv, samples, and writes posterior_<room>.csv. Fixed seeds. Millimetres, weeks.

Every female of these rooms grows from the opening of each cycle on:
  size at the opening ~ N(start, start_spread^2), anew in each cycle;
  rate of a cycle = rate + N(0, female_spread^2) of the female + N(0, season_spread^2) of the cycle;
  dx = rate dt + wobble dW;  scan = x + N(0, scan^2).
Sizes and rates are integrated out: all scans of a female are one multivariate normal vector.
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
    scan=(np.log(1.3), 0.3), start=(8.0, 3.0), start_spread=(np.log(2.0), 0.4),
)
PLAIN = ("rate", "start")
# Invented constants, number of females, seed.
ROOMS = {
    "one": (dict(rate=1.9, female_spread=0.5, season_spread=0.35, wobble=0.5, scan=1.4, start=8.5, start_spread=1.8), 40, 11),
    "two": (dict(rate=2.3, female_spread=0.35, season_spread=0.3, wobble=0.35, scan=1.1, start=7.0, start_spread=1.5), 80, 12),
}
DRAWS, WARM, CHAINS = 2000, 800, 4


def make(room):
    """Rows of female, season, day, scan; each female has one to three cycles of four to seven scans."""
    h, n, seed = ROOMS[room]
    r, rows = np.random.default_rng(seed), []
    for female in range(n):
        own = h["rate"] + r.normal(0, h["female_spread"])
        for season in range(int(r.integers(1, 4))):
            x, rate, day = r.normal(h["start"], h["start_spread"]), own + r.normal(0, h["season_spread"]), 0
            for check in range(int(r.integers(4, 8))):
                gap = 0 if check == 0 else int(r.integers(7, 21))
                day += gap
                x += rate * gap / 7 + r.normal(0, h["wobble"] * np.sqrt(gap / 7)) if gap else 0.0
                r.random()  # kept, so that the seeds give the same rooms
                rows.append((female, season, day, round(max(x + r.normal(0, h["scan"]), 0.0), 1)))
    with open(f"checks_{room}.csv", "w") as out:
        out.write("female,season,day,scan\n")
        for row in rows:
            out.write(",".join(f"{c:g}" for c in row) + "\n")
    return np.array(rows, dtype=float)


def laid_out(rows):
    """Females by scans, padded: week, cycle, scan, whether there is one."""
    females = [rows[rows[:, 0] == f] for f in np.unique(rows[:, 0])]
    most = max(len(f) for f in females)
    out = {k: np.zeros((len(females), most)) for k in ("week", "season", "scan", "there")}
    for i, f in enumerate(females):
        n = len(f)
        out["week"][i, :n], out["season"][i, :n], out["scan"][i, :n], out["there"][i, :n] = f[:, 2] / 7, f[:, 1], f[:, 3], 1
    return out


def log_density(h, d):
    """Logarithm of the density of all that was seen, females independent of each other."""
    t, s, m = d["week"], d["season"], d["there"]
    pair = m[:, :, None] * m[:, None, :]
    same = (s[:, :, None] == s[:, None, :]) * pair
    tt, least = t[:, :, None] * t[:, None, :], jnp.minimum(t[:, :, None], t[:, None, :])
    v = tt * (h["female_spread"] ** 2 * pair + h["season_spread"] ** 2 * same)
    v = v + same * (h["start_spread"] ** 2 + h["wobble"] ** 2 * least)
    v = v + jnp.eye(t.shape[1]) * jnp.where(m > 0, h["scan"] ** 2, 1.0)[:, None, :]
    off = (d["scan"] - h["start"] - h["rate"] * t) * m
    c = jnp.linalg.cholesky(v)
    u = jax.scipy.linalg.solve_triangular(c, off[:, :, None], lower=True)[:, :, 0]
    logs = jnp.log(jnp.diagonal(c, axis1=1, axis2=2)).sum()
    return -0.5 * (u * u).sum() - logs - 0.5 * m.sum() * jnp.log(2 * jnp.pi)


def model(d):
    """Settings on the scale of their priors."""
    h = {}
    for name, (mean, spread) in PRIORS.items():
        at = numpyro.sample(name, dist.Normal(mean, spread))
        h[name] = at if name in PLAIN else jnp.exp(at)
    numpyro.factor("seen", log_density(h, d))


def main(room):
    d = laid_out(make(room))
    kernel = NUTS(model, target_accept_prob=0.9)
    run = MCMC(kernel, num_warmup=WARM, num_samples=DRAWS, num_chains=CHAINS, chain_method="sequential", progress_bar=False)
    run.run(jax.random.PRNGKey(1), d)
    draws = {k: np.asarray(v) for k, v in run.get_samples(group_by_chain=True).items()}
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
