# Reference values of survival and lme4 on records.csv and on lme4's own data sets. See generate.py.
library(survival); library(lme4)
d <- read.csv("records.csv"); out <- NULL
tell <- function(what, v, library) out <<- rbind(out, data.frame(what, at = seq_along(v) - 1, value = sprintf("%.17g", v), library))
x <- ~ x0 + x1 + x2 + x3 + x4
m <- coxph(Surv(exit, event) ~ x0 + x1 + x2 + x3 + x4, d, control = coxph.control(eps = 1e-14, iter.max = 50))
tell("cox", coef(m), "survival"); tell("cox_error", sqrt(diag(vcov(m))), "survival"); tell("cox_log_likelihood", m$loglik[2], "survival")
m <- coxph(Surv(entry, exit, event) ~ x0 + x1 + x2 + x3 + x4, d, control = coxph.control(eps = 1e-14, iter.max = 50))
tell("cox_late", coef(m), "survival"); tell("cox_late_error", sqrt(diag(vcov(m))), "survival")
k <- survfit(Surv(exit, event) ~ 1, d, conf.type = "log-log"); k <- lapply(unclass(k)[c("surv", "std.err", "lower", "upper", "n.risk", "n.event")], function(v) v[k$n.event > 0])
tell("km", k$surv, "survival"); tell("km_error", k$surv * k$std.err, "survival"); tell("km_low", k$lower, "survival"); tell("km_high", k$upper, "survival")
k <- survfit(Surv(entry, exit, event) ~ 1, d); tell("km_late", k$surv[k$n.event > 0], "survival")
# Females that come again: the curve's error by cluster, its median; and a normal level per female of a given spread, a stratum per season.
k <- survfit(Surv(exit, event) ~ 1, d, id = seq_len(nrow(d)), cluster = female); k <- lapply(unclass(k)[c("surv", "std.err", "n.event")], function(v) v[k$n.event > 0])
tell("km_grouped_error", k$std.err, "survival")
for (level in c(80, 95)) tell(paste0("km_median_", level), sapply(quantile(survfit(Surv(exit, event) ~ 1, d, conf.type = "log-log", conf.int = level / 100), .5), c), "survival")
m <- coxph(Surv(exit, event) ~ x0 + x1 + strata(season) + frailty(female, distribution = "gaussian", theta = .25, sparse = FALSE), d, control = coxph.control(eps = 1e-12, toler.chol = 1e-13, iter.max = 50, outer.max = 50))
tell("cox_levels", coef(m)[1:2], "survival"); tell("cox_levels_error", sqrt(diag(vcov(m)))[1:2], "survival")
write.csv(Penicillin, "penicillin.csv", row.names = FALSE); write.csv(Dyestuff, "dyestuff.csv", row.names = FALSE)
p <- lmer(diameter ~ 1 + (1 | plate) + (1 | sample), Penicillin, control = lmerControl(optCtrl = list(xtol_abs = 1e-10, ftol_abs = 1e-12)))
tell("penicillin", c(getME(p, "theta"), fixef(p), sigma(p), sqrt(diag(as.matrix(vcov(p))))), "lme4")
y <- lmer(Yield ~ 1 + (1 | Batch), Dyestuff, control = lmerControl(optCtrl = list(xtol_abs = 1e-10, ftol_abs = 1e-12)))
tell("dyestuff", c(getME(y, "theta"), fixef(y), sigma(y), sqrt(diag(as.matrix(vcov(y))))), "lme4")
# Restricted log-likelihood along one spread: differences must be ours.
f <- lmer(Yield ~ 1 + (1 | Batch), Dyestuff, devFunOnly = TRUE); tell("dyestuff_deviance", sapply(c(.2, .6, .85, 1.5, 3), f), "lme4")
f <- lmer(diameter ~ 1 + (1 | plate) + (1 | sample), Penicillin, devFunOnly = TRUE); tell("penicillin_deviance", sapply(c(.5, 1, 1.54, 2.5), function(a) f(c(a, 2 * a))), "lme4")
write.csv(out, "values_r.csv", row.names = FALSE, quote = FALSE)
cat(R.version.string, "survival", as.character(packageVersion("survival")), "lme4", as.character(packageVersion("lme4")), "\n")
