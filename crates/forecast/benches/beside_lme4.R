# Times lme4 on the scans the bench `beside_lme4` reads. Argument: the file of scans. Prints for two optimisers a name, the
# median time of a fit in microseconds, and intercept, slope, their standard deviations and that of the rest.
suppressMessages(library(lme4))
scans <- read.csv(commandArgs(TRUE)[1])
scans$week <- scans$day / 7
usual <- lmerControl()
closely <- lmerControl(optimizer = "nloptwrap", optCtrl = list(xtol_abs = 1e-10, ftol_abs = 1e-12))
for (what in list(list("lme4,usual", usual), list("lme4,closely", closely))) {
  fit <- function() lmer(scan ~ week + (week || female), scans, REML = FALSE, control = what[[2]])
  m <- fit()
  took <- sapply(1:9, function(i) system.time(fit())[["elapsed"]])
  v <- as.data.frame(VarCorr(m))
  said <- c(fixef(m), v$sdcor[v$grp != "Residual"][order(v$var1[v$grp != "Residual"])], sigma(m))
  cat(sub(" ", "_", what[[1]]), median(took) * 1e6, sprintf("%.12g", said))
  cat("\n")
}
