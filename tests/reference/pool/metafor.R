# SPDX-License-Identifier: GPL-3.0-or-later
# Compares with metafor; see the program "metafor" beside this file. Arguments: the folder of the
# stored cases, then answers of `pool` as JSON.
suppressMessages({
  library(metafor)
  library(jsonlite)
})
arguments <- commandArgs(trailingOnly = TRUE)
passed <- 0
failed <- 0
TIGHT <- list(threshold = 1e-13, maxiter = 10000, tol = 1e-15, tau2.max = 1e5)

# Fit to a tight threshold; with smaller steps where the usual ones go round in circles.
fitted_by <- function(fit) {
  suppressWarnings(tryCatch(fit(TIGHT), error = function(e) fit(c(TIGHT, stepadj = 0.3))))
}

# Count one comparison, to a share of the value.
check <- function(where, what, got, wanted, share) {
  got <- as.numeric(unname(got))
  wanted <- as.numeric(unname(wanted))
  if (length(got) != length(wanted)) {
    failed <<- failed + 1
    cat(where, what, "has", length(got), "values instead of", length(wanted), "\n")
    return(invisible())
  }
  for (i in which(!is.na(wanted))) {
    off <- abs(got[i] - wanted[i]) / ifelse(wanted[i] == 0, 1, abs(wanted[i]))
    if (is.na(off) || off > share) {
      failed <<- failed + 1
      cat(where, ": ", what, ": ", format(got[i], digits = 14), " instead of ",
          format(wanted[i], digits = 14), "\n", sep = "")
    } else {
      passed <<- passed + 1
    }
  }
}

# The cases of one file: lists of words with their texts, expectations apart.
read_cases <- function(file) {
  cases <- list()
  for (line in readLines(file.path(arguments[1], file))) {
    line <- sub("^ +", "", line)
    if (line == "" || startsWith(line, "#")) next
    word <- sub(" .*", "", line)
    rest <- sub("^[^ ]+ ", "", line)
    if (word == "case") {
      cases[[rest]] <- list(expect = list())
      last <- rest
    } else if (word == "expect") {
      name <- sub(" .*", "", rest)
      values <- strsplit(sub("^[^ ]+ (.*) within .*", "\\1", rest), " ")[[1]]
      values[values %in% c("-", "?")] <- NA
      cases[[last]]$expect[[name]] <-
        list(values = as.numeric(values), share = as.numeric(sub(".* within ", "", rest)))
    } else {
      cases[[last]][[word]] <- c(cases[[last]][[word]], rest)
    }
  }
  cases
}

expect <- function(id, each, name, got) {
  wanted <- each$expect[[name]]
  if (!is.null(wanted)) check(id, name, got, wanted$values, wanted$share)
}

# What the call of an effect size gives now.
check_effects <- function() {
  cases <- read_cases("effects.txt")
  for (id in names(cases)) {
    each <- cases[[id]]
    if (is.null(each$call) || !startsWith(each$call, "escalc(")) next
    effect <- eval(parse(text = each$call))
    expect(id, each, "value", effect$yi)
    expect(id, each, "variance", effect$vi)
  }
}

# Effect, variance, then moderators.
studies_of <- function(data) do.call(rbind, lapply(strsplit(data$study, " "), as.numeric))

fit_of <- function(each, rows) {
  test <- if (identical(each$test, "hartung-knapp")) "knha" else "z"
  yi <- rows[, 1]
  vi <- rows[, 2]
  design <- matrix(1, length(yi), 1)
  if (!is.null(each$columns))
    design <- cbind(design, rows[, 2 + as.numeric(strsplit(each$columns, " ")[[1]])])
  fitted_by(function(control) rma(yi, vi, mods = design, intercept = FALSE, method = each$method,
                                  test = test, control = control))
}

check_fit <- function(id, each, fit) {
  expect(id, each, "estimate", fit$beta[1])
  expect(id, each, "error", fit$se[1])
  if (is.null(fit$ci.lb)) return()
  expect(id, each, "interval", c(fit$ci.lb[1], fit$ci.ub[1]))
  expect(id, each, "coefficients", fit$beta)
  expect(id, each, "errors", fit$se)
  if (fit$tau2 > 1e-12) {
    expect(id, each, "tau2", fit$tau2)
    expect(id, each, "i2-pct", fit$I2)
  }
  if (each$method != "FE") expect(id, each, "tau2-error", fit$se.tau2)
  expect(id, each, "h2", fit$H2)
  expect(id, each, "q", fit$QE)
  if (each$method %in% c("REML", "ML") && fit$k > fit$p)
    expect(id, each, "log-likelihood", logLik(fit, REML = each$method == "REML"))
}

check_stored <- function() {
  data <- read_cases("studies.txt")
  for (file in c("fits.txt", "regressions.txt")) {
    cases <- read_cases(file)
    for (id in names(cases))
      check_fit(id, cases[[id]], fit_of(cases[[id]], studies_of(data[[cases[[id]]$of]])))
  }
  cases <- read_cases("small-studies.txt")
  for (id in names(cases)) {
    each <- cases[[id]]
    rows <- studies_of(data[[each$of]])
    yi <- rows[, 1]
    vi <- rows[, 2]
    if (each$form == "weighted") {
      test <- regtest(yi, vi, model = "lm", predictor = "sei")
    } else {
      fit <- fitted_by(function(control) rma(yi, vi, control = control))
      test <- regtest(fit, predictor = "sei")
    }
    expect(id, each, "statistic", test$zval)
    expect(id, each, "p", test$pval)
  }
  cases <- read_cases("influence.txt")
  for (id in names(cases)) {
    rows <- studies_of(data[[cases[[id]]$of]])
    yi <- rows[, 1]
    vi <- rows[, 2]
    fit <- fitted_by(function(control) rma(yi, vi, control = control))
    out <- suppressWarnings(leave1out(fit))
    expect(id, cases[[id]], "without-estimate", out$estimate)
    expect(id, cases[[id]], "without-tau2", out$tau2)
  }
}

percent <- function(log_growth) 100 * expm1(log_growth)

# One set of our own trials. SHARE is what 12 printed digits and a search to 1e-10 leave.
SHARE <- 1e-7

check_pooled <- function(where, pooled, fit) {
  check(where, "growth", pooled$growth$log_growth, fit$beta, SHARE)
  check(where, "error", pooled$growth$error, fit$se, SHARE)
  check(where, "interval", c(pooled$growth$low, pooled$growth$high),
        percent(c(fit$ci.lb, fit$ci.ub)), SHARE)
  check(where, "tau2", pooled$tau2, ifelse(fit$tau2 < 1e-12, 0, fit$tau2), SHARE)
  check(where, "i2", pooled$i2_percent, ifelse(fit$tau2 < 1e-12, 0, fit$I2), SHARE)
  check(where, "q", c(pooled$q, pooled$p), c(fit$QE, fit$QEp), SHARE)
  bounds <- confint(fit, control = list(tol = 1e-13, maxiter = 1e5, tau2.max = 100))$random[1, 2:3]
  check(where, "tau2 interval", c(pooled$tau2_low, pooled$tau2_high), bounds, 1e-6)
  if (fit$k > 2) {
    reach <- qt(0.975, fit$k - 2) * sqrt(fit$se^2 + fit$tau2)
    check(where, "new study", c(pooled$new_study$low, pooled$new_study$high),
          percent(fit$beta[1] + c(-1, 1) * reach), SHARE)
  }
}

check_studies <- function(where, studies, fit) {
  check(where, "weights", sapply(studies, function(s) s$weight_percent), weights(fit), SHARE)
  if (fit$k < 3) return()
  out <- suppressWarnings(leave1out(fit))
  check(where, "without", sapply(studies, function(s) s$without$log_growth), out$estimate, SHARE)
  check(where, "without, tau2", sapply(studies, function(s) s$tau2_without),
        ifelse(out$tau2 < 1e-12, 0, out$tau2), 1e-6)
  # With "adhoc" metafor scales the variance of these as well; outliers are told without that.
  plain <- fitted_by(function(control) rma(fit$yi, fit$vi, control = control))
  check(where, "studentised", sapply(studies, function(s) s$studentised), rstudent(plain)$z, 1e-6)
}

check_set <- function(where, set) {
  studies <- set$studies
  yi <- sapply(studies, function(s) s$growth$log_growth)
  vi <- sapply(studies, function(s) s$growth$error)^2
  if (length(yi) < 2) return()
  fit <- fitted_by(function(control) rma(yi, vi, test = "adhoc", control = control))
  check_pooled(where, set$pooled, fit)
  check_studies(where, studies, fit)
  small <- set$pooled$small_studies
  if (is.null(small)) return()
  test <- regtest(fit, predictor = "sei")
  check(where, "small studies", c(small$slope, small$p), c(test$fit$beta[2], test$pval), 1e-6)
  check(where, "limit", small$limit$log_growth, test$est, 1e-6)
}

check_effects()
check_stored()
for (file in arguments[-1]) {
  answer <- fromJSON(file, simplifyVector = FALSE)
  for (set in answer$sets) check_set(paste(basename(file), set$of), set)
}
cat(passed, " passed, ", failed, " failed\n", sep = "")
quit(status = failed > 0)
