#!/usr/bin/env python3
"""Random intercept and slope of the scans in scans.csv: scan ~ week + (week | female), ML and REML, and without the correlation.

The likelihoods are written out as multivariate normal densities and brought to where the gradient vanishes by Newton's
method with automatic differentiation: the optimum to more digits than an optimiser gives.

Run after generate.py:  python3 dense.py   (needs numpy, jax; versions in README.md). Writes mixed_dense.csv.
"""
import jax
import jax.numpy as jnp
import numpy as np

jax.config.update("jax_enable_x64", True)
read = np.genfromtxt("scans.csv", delimiter=",", names=True)
room = [[(r["day"] / 7, r["scan"]) for r in read[read["female"] == f]] for f in np.unique(read["female"])]
most = max(len(s) for s in room)
padded = lambda pick: np.array([[pick(s[j]) if j < len(s) else 0.0 for j in range(most)] for s in room])
week, scan, there = padded(lambda s: s[0]), padded(lambda s: s[1]), padded(lambda _: 1.0)


def log_likelihood(p, reml, correlated):
    start, rate, l11, l22, log_error = p[:5]
    l21 = p[5] if correlated else 0.0
    root = jnp.array([[l11, 0.0], [l21, l22]])

    def one(t, y, m):
        z = jnp.stack([m, t * m], 1)
        v = z @ root @ root.T @ z.T + jnp.diag(jnp.where(m > 0, jnp.exp(2 * log_error), 1.0))
        c = jnp.linalg.cholesky(v)
        u = jax.scipy.linalg.solve_triangular(c, (y - start - rate * t) * m, lower=True)
        w = jax.scipy.linalg.solve_triangular(c, z, lower=True)
        return -0.5 * u @ u - jnp.log(jnp.diag(c)).sum() - 0.5 * m.sum() * jnp.log(2 * jnp.pi), w.T @ w

    value, information = jax.vmap(one)(week, scan, there)
    both = jnp.linalg.slogdet(information.sum(0))[1]
    return value.sum() + (jnp.log(2 * jnp.pi) - 0.5 * both if reml else 0.0)


with open("mixed_dense.csv", "w") as out:
    out.write("method,start,rate,start_spread,rate_spread,correlation,residual,log_likelihood\n")
    for method, reml, correlated in (("ML", False, True), ("REML", True, True), ("ML apart", False, False)):
        gradient = jax.jit(jax.grad(log_likelihood), static_argnums=(1, 2))
        curvature = jax.jit(jax.hessian(log_likelihood), static_argnums=(1, 2))
        p = np.array([6.0, 1.93, 1.92, 0.46, 0.26, -0.07][: 6 if correlated else 5])
        for _ in range(20):
            p = p - np.linalg.solve(curvature(p, reml, correlated), gradient(p, reml, correlated))
        assert np.abs(gradient(p, reml, correlated)).max() < 1e-10
        assert np.linalg.eigvalsh(curvature(p, reml, correlated)).max() < 0
        l21 = p[5] if correlated else 0.0
        slope = np.hypot(l21, p[3])
        values = [p[0], p[1], p[2], slope, l21 / slope, np.exp(p[4]), log_likelihood(p, reml, correlated)]
        out.write(",".join([method] + [repr(float(x)) for x in values]) + "\n")
