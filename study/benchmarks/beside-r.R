# Times in R what the JMH benchmarks time in Java, on the same data, and writes lines of name, seconds by the clock, seconds of
# the processor, and a value.
# Called by beside-r.sh with the directory of the data files.
suppressMessages(library(lme4))
directory <- commandArgs(trailingOnly = TRUE)[1]
say <- function(name, time, divisor, value) {
  clock <- time["elapsed"] / divisor
  processor <- (time["user.self"] + time["sys.self"]) / divisor
  cat(name, format(clock, digits = 6), format(processor, digits = 6), format(value, digits = 12), "\n")
}

rotation <- read.csv(file.path(directory, "rotation.csv"))
values <- as.matrix(read.csv(file.path(directory, "rotation-values.csv"), header = FALSE))
for (column in c("cell", "board", "pair")) rotation[[column]] <- factor(rotation[[column]])

# lme4's own default stopping rules: what a user gets
time <- system.time(fit <- suppressMessages(lmer(y ~ 1 + (1 | cell) + (1 | board) + (1 | pair), rotation)))
say("criterion-of-rotation", time, 1, REMLcrit(fit))
refits <- ncol(values)
time <- system.time(for (i in seq_len(refits)) suppressMessages(refit(fit, values[, i])))
say("refit", time, refits, refits)

# confint profiles the likelihood of the standard deviations; of the mean too, which Java's does not
time <- system.time(suppressMessages(suppressWarnings(
    profile <- confint(fit, parm = "theta_", method = "profile", quiet = TRUE))))
say("profile", time, 1, profile[1, 2])

large <- read.csv(file.path(directory, "large.csv"))
large$cell <- factor(large$cell)
large$board <- factor(large$board)
time <- system.time(fit <- suppressWarnings(lmer(y ~ 1 + (1 | cell) + (1 | board), large)))
say("large", time, 1, REMLcrit(fit))
