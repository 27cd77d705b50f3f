"""Times statsmodels, scikit-learn, lifelines and R's survival on what the bench `effects` sends on
standard input: 2,000 rows of 12 covariates, outcomes, times, events.

The argument says what: `logit`, `ridge`, `cox` or `km`. Prints, one line per peer, its name, its
median time in microseconds and its results.
"""

import shutil
import statistics
import subprocess
import sys
import tempfile
import time
import warnings

import numpy as np

warnings.filterwarnings("ignore")
N, P = 2000, 12


def median(work, least=0.5):
    work()
    micros, began = [], time.perf_counter()
    while len(micros) < 5 or time.perf_counter() - began < least:
        start = time.perf_counter()
        result = work()
        micros.append((time.perf_counter() - start) * 1e6)
    return statistics.median(micros), result


def tell(name, micros, result):
    print(name, micros, *(repr(float(v)) for v in result))


given = np.frombuffer(sys.stdin.buffer.read(), dtype="<f8")
x = given[: N * P].reshape(N, P).copy()
y, t, e = given[N * P :].reshape(3, N).copy()


def logit():
    import statsmodels.api as sm
    a = sm.add_constant(x)
    m, r = median(lambda: sm.Logit(y, a).fit(disp=0, tol=1e-12).params)
    tell("statsmodels", m, r)


def ridge():
    from sklearn.linear_model import LogisticRegression
    for solver in ("newton-cholesky",):
        m, r = median(lambda: LogisticRegression(C=1.0, solver=solver, tol=1e-10).fit(x, y))
        tell(f"scikit-learn/{solver}", m, np.r_[r.intercept_, r.coef_[0]])


def in_r(what):
    """R times itself: starting it is not counted."""
    if not shutil.which("Rscript"):
        return
    with tempfile.NamedTemporaryFile("w", suffix=".csv") as data:
        np.savetxt(data, np.c_[x, t, e], delimiter=",", fmt="%.17g")
        data.flush()
        script = f"""
library(survival); d <- read.csv("{data.name}", header = FALSE)
times <- NULL; for (i in 1:15) {{ b <- Sys.time(); {what}; times <- c(times, as.numeric(Sys.time() - b, units = "secs")) }}
cat("survival", median(times) * 1e6, sprintf("%.17g", out), "\\n")"""
        said = subprocess.run(["Rscript", "-e", script], capture_output=True, text=True).stdout
        print(" ".join(said.split()))


def cox():
    import pandas as pd
    import statsmodels.api as sm
    from lifelines import CoxPHFitter
    d = pd.DataFrame(x, columns=[f"x{i}" for i in range(P)])
    d["t"], d["e"] = t, e
    m, r = median(lambda: CoxPHFitter().fit(d, "t", "e").params_)
    tell("lifelines", m, r)
    m, r = median(lambda: sm.PHReg(t, x, e, ties="efron").fit(disp=0).params)
    tell("statsmodels", m, r)
    names = " + ".join(f"V{i + 1}" for i in range(P))
    in_r(f"m <- coxph(Surv(V13, V14) ~ {names}, d); out <- coef(m)")


def km():
    from lifelines import KaplanMeierFitter
    at = np.unique(t[e > 0])
    m, r = median(lambda: KaplanMeierFitter().fit(t, e))
    tell("lifelines", m, r.survival_function_at_times(at))
    in_r("k <- survfit(Surv(V13, V14) ~ 1, d); out <- k$surv[k$n.event > 0]")


{"logit": logit, "ridge": ridge, "cox": cox, "km": km}[sys.argv[1]]()
