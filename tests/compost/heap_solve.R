# The heat of a pile after docs/compost/heap.md, equations 1 to 4, written apart from the program and integrated by lsoda.
# Usage: Rscript heap_solve.R NAME=VALUE ... turns=DAY,DAY,... . Prints a row every 6 h: day, degC, food left [kg].
suppressPackageStartupMessages(library(deSolve))
p <- list()
for (given in strsplit(commandArgs(trailingOnly = TRUE), "=")) p[[given[1]]] <- given[2]
turns <- if (is.null(p$turns)) numeric() else as.numeric(strsplit(p$turns, ",")[[1]])
p <- lapply(p[names(p) != "turns"], as.numeric)

humidity <- function(t) { e <- 0.6108 * exp(17.27 * t / (t + 237.3)); 0.622 * e / (101.325 - e) }
moist <- p$volume_m3 * p$bulk_kg_per_m3
dry <- moist * (1 - p$moisture)
capacity <- dry * p$solids_kj_per_kg_k + (moist - dry) * 4.18
radius <- (p$volume_m3 * 3 / (2 * pi))^(1 / 3)
shell <- p$conductance * 2 * pi * radius^2 * 86.4               # kJ per day and kelvin
air <- p$oxygen / (0.2314 * p$oxygen_used)                      # kg of air per kg that rots
outside <- humidity(p$air_c) / 2

slope <- function(day, y, since) {
  warmth <- max(0, 1.066^(y[1] - 20) - 1.21^(y[1] - 60))
  draught <- max(1 / 3, 1 - 2 / 3 * (day - since) / p$settling_d)
  rots <- p$decay * warmth * draught * y[2]
  leaves <- 1.005 * (y[1] - p$air_c) + 2400 * max(0, humidity(y[1]) - outside)
  list(c((rots * p$heat - shell * (y[1] - p$air_c) - rots * air * leaves) / capacity, -rots))
}
y <- c(p$start_c, dry * p$volatile * p$degradable)
since <- 0
rows <- NULL
for (stage in seq_len(length(turns) + 1)) {
  to <- if (stage <= length(turns)) turns[stage] else p$length_d
  # The grid of 6 h inside the stage, the kink where the pile has settled, and both ends.
  at <- unique(sort(c(since, seq(0, p$length_d, 0.25), since + p$settling_d, to)))
  at <- at[at >= since & at <= to]
  path <- ode(y, at, slope, since, rtol = 1e-10, atol = 1e-10, maxsteps = 1e6)
  rows <- rbind(rows, path[path[, 1] < to | stage > length(turns), , drop = FALSE])
  y <- unname(path[nrow(path), 2:3])
  y[1] <- y[1] - p$turn_cools * (y[1] - p$air_c)
  if (stage <= length(turns) && to %% 0.25 == 0) rows <- rbind(rows, path[nrow(path), ])
  since <- to
}
rows <- rows[abs(rows[, 1] * 4 - round(rows[, 1] * 4)) < 1e-9, , drop = FALSE]
write.table(format(rows, digits = 15), quote = FALSE, row.names = FALSE, col.names = FALSE)
