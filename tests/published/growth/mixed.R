# Random intercept and slope of the scans in scans.csv by lme4: scan ~ week + (week | female), ML and REML, and without the
# correlation of the two, scan ~ week + (week || female), ML. Run after generate.py:  Rscript mixed.R   (versions in
# README.md). Writes mixed_lme4.csv.
suppressMessages(library(lme4))
scans <- read.csv("scans.csv")
scans$week <- scans$day / 7
closely <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhobeg = 1e-3, rhoend = 1e-9, maxfun = 1e5))
row <- function(method, formula, reml) {
  m <- lmer(formula, scans, REML = reml)
  # Again and again from where it stopped, so that it rests on the optimum.
  for (i in 1:4) m <- update(m, start = getME(m, "theta"), control = closely)
  v <- as.data.frame(VarCorr(m))
  sd <- function(what) v$sdcor[v$grp != "Residual" & v$var1 == what & is.na(v$var2)]
  both <- v$sdcor[!is.na(v$var2)]
  f <- fixef(m)
  sprintf("%s,%.12g,%.12g,%.12g,%.12g,%.12g,%.12g,%.12g", method, f[1], f[2], sd("(Intercept)"), sd("week"),
          if (length(both)) both else 0, sigma(m), as.numeric(logLik(m)))
}
together <- scan ~ week + (week | female)
writeLines(c("method,start,rate,start_spread,rate_spread,correlation,residual,log_likelihood",
             row("ML", together, FALSE), row("REML", together, TRUE),
             row("ML apart", scan ~ week + (week || female), FALSE)), "mixed_lme4.csv")
