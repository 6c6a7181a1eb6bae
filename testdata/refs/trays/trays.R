# Works the comparisons with controls out again from trays.csv, by R alone, without any package.
#
#   Rscript trays.R REPORT-FOLDER > again.csv
#
# REPORT-FOLDER holds trays.csv and comparisons.csv; of the latter only what was compared with what is taken, and whether by ratio. Columns of the
# output: day, quantity, treatment, control, estimate, lower, upper, p_unadjusted, p_adjusted, df.
folder <- commandArgs(trailingOnly = TRUE)[1]
trays <- read.csv(file.path(folder, "trays.csv"), check.names = FALSE)
made <- read.csv(file.path(folder, "comparisons.csv"), check.names = FALSE)
made <- made[made$kind == "control" & made$compared_by == "trays" & made$test %in% c("t", "Dunnett"), ]

columns <- c("root area" = "root_area_mean_mm2", "root length" = "root_length_mean_mm", "root cover" = "root_cover_mean_pct", "brown root share" = "root_browning_mean_pct",
  "leaf area" = "leaf_area_mean_mm2", "canopy cover" = "canopy_cover_pct", "yellow leaf share" = "chlorotic_mean_pct", "leaf hue" = "leaf_hue_mean_deg", "stand" = "stand_pct")

# Up to which multiple of the plugs' share the trays' own scatter is pooled with it, by its degrees of freedom and for one, two and three comparisons.
limit <- function(df, k) {
  at <- c(2, 3, 4, 5, 6, 7, 8, 10, 12, 16, 20, 30, 50)
  below <- list(
    c(0.65, 0.88, 1.01, 1.08, 1.14, 1.18, 1.22, 1.27, 1.31, 1.36, 1.4, 1.49, 1.66),
    c(0.5, 0.75, 0.88, 0.96, 1.01, 1.06, 1.09, 1.14, 1.18, 1.23, 1.27, 1.33, 1.42),
    c(0.44, 0.69, 0.82, 0.91, 0.96, 1.01, 1.04, 1.09, 1.13, 1.18, 1.22, 1.28, 1.35))
  c(0, below[[k]])[1 + sum(at <= df)]
}

# P(max |T| <= x) of k comparisons with one control whose correlations are all rho (Dunnett 1955).
held <- function(x, k, rho, df) {
  given <- function(s) sapply(s, function(s) integrate(function(z)
    dnorm(z) * (pnorm((x * s + sqrt(rho) * z) / sqrt(1 - rho)) - pnorm((-x * s + sqrt(rho) * z) / sqrt(1 - rho)))^k, -9, 9, rel.tol = 1e-7)$value)
  ends <- sqrt(qchisq(c(1e-13, 1 - 1e-13), df) / df)
  integrate(function(s) 2 * df * s * dchisq(df * s^2, df) * given(s), ends[1], ends[2], rel.tol = 1e-7)$value
}

cat("day,quantity,treatment,control,estimate,lower,upper,p_unadjusted,p_adjusted,df\n")
for (group in split(made, list(made$day, made$quantity), drop = TRUE)) {
  quantity <- group$quantity[1]
  if (!quantity %in% names(columns)) next
  column <- columns[[quantity]]
  d <- trays[trays$day == group$day[1] & !is.na(trays[[column]]), ]
  value <- d[[column]]
  ratio <- any(!is.na(group$ratio))
  angular <- quantity == "stand"
  if (angular) { # Anscombe 1948
    y <- asin(sqrt((d$plants_n + 3 / 8) / (d$plugs_n + 3 / 4)))
    within <- 1 / (4 * d$plugs_n + 2); n <- d$plugs_n
  } else {
    se <- d[[sub("_mean_", "_mean_se_", column)]]; n <- d[[sub("_mean_.*|_pct$", "_n", column)]]
    if (!grepl("_mean_", column)) se <- rep(NA, nrow(d))
    y <- if (ratio) log(value) else value
    within <- (if (ratio) se / value else se)^2
  }
  d$treatment <- factor(d$treatment); d$block <- factor(d$block)
  f <- if (nlevels(d$block) > 1) lm(y ~ block + treatment, d, contrasts = list(block = "contr.sum")) else lm(y ~ treatment, d)
  floor <- if (all(!is.na(within))) sum((1 - hatvalues(f)) * within) / df.residual(f) else NA
  unscaled <- summary(f)$cov.unscaled
  row <- function(treatment) { # of the model's matrix, the blocks' effects at 0
    r <- setNames(rep(0, length(coef(f))), names(coef(f))); r["(Intercept)"] <- 1
    if (treatment != levels(d$treatment)[1]) r[paste0("treatment", treatment)] <- 1
    r
  }
  for (control in unique(group$control)) {
    family <- group[group$control == control, ]
    df <- df.residual(f); variance <- sum(residuals(f)^2) / df
    if (!is.na(floor)) {
      if (variance < limit(df, nrow(family)) * floor) df <- df + sum(n - 1)
      variance <- max(variance, floor)
    }
    L <- t(sapply(family$treatment, row)) - matrix(row(control), nrow(family), length(coef(f)), byrow = TRUE)
    estimate <- drop(L %*% coef(f)); scale <- L %*% unscaled %*% t(L); s <- sqrt(diag(scale) * variance)
    corr <- cov2cor(scale); t <- abs(estimate) / s
    single <- 2 * pt(-t, df)
    if (nrow(family) > 1) {
      rho <- min(corr[upper.tri(corr)]) # the smallest, where they differ
      adjusted <- sapply(t, function(x) 1 - held(x, nrow(family), rho, df))
      critical <- uniroot(function(x) held(x, nrow(family), rho, df) - 0.95, c(1.5, 40), tol = 1e-7)$root
    } else { adjusted <- single; critical <- qt(0.975, df) }
    low <- estimate - critical * s; high <- estimate + critical * s; shown <- estimate
    if (ratio) { shown <- exp(estimate); low <- exp(low); high <- exp(high) }
    if (angular) {
      shares <- update(f, value ~ .)
      shown <- drop(L %*% coef(shares))
      both <- drop((t(sapply(family$treatment, row)) + matrix(row(control), nrow(family), length(coef(f)), byrow = TRUE)) %*% coef(f))
      low <- 100 * sin(both) * sin(low); high <- 100 * sin(both) * sin(high)
    }
    for (i in seq_len(nrow(family)))
      cat(sprintf("%d,%s,%s,%s,%.9g,%.9g,%.9g,%.9g,%.9g,%g\n", family$day[i], quantity, family$treatment[i], control, shown[i], low[i], high[i], single[i], adjusted[i], df))
  }
}
