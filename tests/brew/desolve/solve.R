# Usage: Rscript solve.R SIDE.so MEMBERS.bin PATHS.bin METHOD RELATIVE ABSOLUTE_SCALE
# MEMBERS.bin, doubles: member count, number count, state count, output count; output hours; absolute tolerances; then for
# each member its numbers and its start. PATHS.bin, doubles: [member][at][state]. Prints the seconds that
# the loop over all members took.
suppressPackageStartupMessages(library(deSolve))
given <- commandArgs(trailingOnly = TRUE)
side <- dyn.load(given[1])
name <- sub("\\.so$", "", basename(given[1]))
from <- file(given[2], "rb")
shape <- readBin(from, "double", 4)
hours <- readBin(from, "double", shape[4])
absolute <- readBin(from, "double", shape[3]) * as.numeric(given[6])
members <- lapply(seq_len(shape[1]), function(m) list(numbers = readBin(from, "double", shape[2]), start = readBin(from, "double", shape[3])))
close(from)
solve_all <- function() lapply(members, function(m)
  ode(m$start, hours, func = "tea_derivative", parms = m$numbers, jacfunc = "tea_jacobian", jactype = "fullusr", dllname = name,
        initfunc = "tea_start", rtol = as.numeric(given[5]), atol = absolute, maxsteps = 100000, method = given[4]))
seconds <- system.time(paths <- solve_all())[["elapsed"]]
to <- file(given[3], "wb")
for (path in paths) {
  rows <- matrix(NaN, length(hours), shape[3])
  rows[seq_len(nrow(path)), ] <- path[, -1]
  writeBin(as.double(t(rows)), to)
}
close(to)
cat(sprintf("%.6f\n", seconds))
