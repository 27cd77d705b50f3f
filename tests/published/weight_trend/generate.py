"""Goldens of crates/forecast/tests/weight_trend.rs: Huber's robust line through the logarithm of weights.

Run with statsmodels (version printed beside the figures).
"""
import numpy as np, statsmodels, statsmodels.api as sm

CASES = {
    "falling with one slip of the pen": [(0, 1900), (17, 1880), (31, 1851), (60, 1820), (66, 2150), (88, 1775), (101, 1769)],
    "growing": [(0, 62), (8, 70), (20, 83), (27, 96), (45, 121), (52, 140), (70, 171), (81, 205), (99, 260), (130, 371)],
    "up and down": [(0, 1510), (3, 1560), (30, 1490), (41, 1525), (77, 1533), (110, 1480)],
}
print("statsmodels", statsmodels.__version__)
for name, rows in CASES.items():
    day = np.array([r[0] for r in rows], float)
    y = np.log([r[1] for r in rows])
    fit = sm.RLM(y, sm.add_constant(day), M=sm.robust.norms.HuberT()).fit(maxiter=500, tol=1e-13)
    print(name, *(f"{v:.12g}" for v in (*fit.params, fit.bse[1])))
day = np.array([0, 20, 50, 90.0]); y = np.log([1000, 1010, 990, 985])
ols = sm.OLS(y, sm.add_constant(day)).fit()
print("four", *(f"{v:.12g}" for v in (*ols.params, ols.bse[1])), *(f"{v:.12g}" for v in ols.conf_int(0.2)[1]))
