#!/usr/bin/env python3
"""Reference values for learned durations, from scipy.

Run:  python3 generate.py   (needs numpy, scipy; versions in README.md)
Writes student.csv and next.csv beside itself. Fixed seed; nothing else is random.

next.csv does not use the closed form: prior times likelihood is laid out on a grid of mean and
logarithm of the standard deviation and summed.
"""
import numpy as np
from scipy.stats import chi2, norm, t


def student():
    with open("student.csv", "w") as out:
        out.write("t,freedom,below\n")
        for freedom in (0.5, 1.0, 2.0, 3.0, 6.0, 7.5, 20.0, 101.0, 5000.0):
            for x in (-60.0, -12.0, -4.5, -2.0, -1.0, -0.3, 0.0, 0.01, 0.7, 1.4, 3.0, 9.0):
                out.write(f"{x!r},{freedom!r},{float(t.cdf(x, freedom))!r}\n")


def next_one():
    rng = np.random.default_rng(20270101)
    samples = [
        [],
        [21.0],
        [17.0, 22.0, 19.0],
        [float(round(x)) for x in rng.normal(26.0, 2.0, 12)],
        [float(round(x)) for x in rng.normal(16.0, 6.0, 40)],
    ]
    with open("next.csv", "w") as out:
        out.write("days,prior_mean,mean_counts,give,spread_counts,by,chance\n")
        for days in samples:
            # give: scale of the Student's t of the next one before anything is seen
            mean0, counts, give, freedom = 19.0, 3.0, 4.0, 6.0
            scale = give / np.sqrt(1.0 + 1.0 / counts)
            middle, near = (np.mean(days), max(np.std(days), 1.0)) if days else (mean0, give)
            mu = np.linspace(-60.0, 100.0, 8001)[:, None]
            log_sd = np.linspace(np.log(0.15), np.log(120.0), 1601)[None, :]
            sd = np.exp(log_sd)
            # sigma^2 scaled inverse chi-squared; d sigma^2 = 2 sigma^2 d log sigma
            log_p = chi2.logpdf(freedom * scale**2 / sd**2, freedom)
            log_p = log_p + np.log(freedom * scale**2 / sd**4) + 2.0 * log_sd
            log_p = log_p + norm.logpdf(mu, mean0, sd / np.sqrt(counts))
            for d in days:
                log_p = log_p + norm.logpdf(d, mu, sd)
            p = np.exp(log_p - log_p.max())
            p /= p.sum()
            for z in (-2.5, -1.3, -0.5, 0.0, 0.4, 1.3, 2.5):
                by = float(middle + z * near)
                chance = float((p * norm.cdf((by - mu) / sd)).sum())
                row = [" ".join(repr(d) for d in days), mean0, counts, give, freedom, by, chance]
                out.write(",".join(str(x) for x in row) + "\n")


student()
next_one()
