# The report's peer: the same sums over a job log, and six plots, in R.
#   Rscript report.R LOG.csv FOLDER
suppressPackageStartupMessages({library(data.table); library(survival)})
args <- commandArgs(TRUE)
dir.create(args[2], showWarnings = FALSE)
d <- fread(args[1], na.strings = "")
d[, neat := area_sqft * thickness_in / 324]
d[, over := (delivered_yd - leftover_yd) / neat - 1]
d[, month := substr(placed_on, 1, 7)]
end <- as.IDate("2025-12-31")
d[, time := as.integer(fifelse(is.na(callback_on), end, as.IDate(callback_on)) - as.IDate(placed_on))]
d[, event := as.integer(!is.na(callback_kind) & callback_kind == "crack")]
over <- d[, as.list(quantile(over, c(.1, .5, .9), names = FALSE)), keyby = .(use, method)]
crews <- d[, .(rate = sum(area_sqft) / sum(labor_hours)), keyby = crew]
clogs <- d[method == "pump", .(rate = 100 * sum(clogs) / sum(delivered_yd)), keyby = pump_outfit]
money <- d[, .(margin = 1 - sum(actual_cost) / sum(contract_price)), keyby = month]
km <- survfit(Surv(time, event) ~ reinforcement, d)
cox <- coxph(Surv(time, event) ~ reinforcement + air_temp_f + humidity_pct + wind_mph + joint_spacing_ft, d)
write.csv(over, file.path(args[2], "over.csv")); write.csv(summary(cox)$coefficients, file.path(args[2], "cox.csv"))
draw <- function(name, f) { svg(file.path(args[2], paste0(name, ".svg"))); f(); dev.off() }
draw("over", function() boxplot(over ~ use, d, outline = FALSE))
draw("crews", function() barplot(crews$rate, names.arg = crews$crew))
draw("clogs", function() barplot(clogs$rate, names.arg = clogs$pump_outfit))
draw("margin", function() plot(money$margin, type = "l"))
draw("cracks", function() plot(km))
draw("weather", function() plot(unique(d[, .(round(air_temp_f), round(humidity_pct))])))
