#!/usr/bin/env python3
"""Times the forecast beside its peers and writes docs/brew/speed.json and docs/brew/speed.md.

Usage: tools/measure_speed.py [--table-only]. Built first with `cmake --preset bench && cmake --build --preset bench`.
A quiet machine is asked for: with a load above 0.5 it says so in the page."""
import datetime
import json
import os
import pathlib
import platform
import subprocess
import sys

TOP = pathlib.Path(__file__).resolve().parent.parent
RAW = TOP / "docs/brew/speed.json"
PAGE = TOP / "docs/brew/speed.md"


def said(*command):
    return subprocess.run(command, capture_output=True, text=True, cwd=TOP).stdout.strip()


def measure():
    load = os.getloadavg()[0]
    done = subprocess.run([TOP / "build/bench/benchmarks/brew/forecast_bench", "--benchmark_format=json"],
                          capture_output=True, text=True, cwd=TOP)
    if done.returncode:
        sys.exit(f"measure_speed: {done.stderr}")
    runs = json.loads(done.stdout)
    for number in ("date", "host_name", "executable", "caches"):
        runs["context"].pop(number, None)
    model = next((line.split(":")[1].strip() for line in open("/proc/cpuinfo") if line.startswith("model name")), platform.machine())
    runs["context"].update(day=str(datetime.date.today()), commit=said("git", "rev-parse", "--short", "HEAD"), processor=model,
                           compiler=said("g++", "--version").splitlines()[0], load_at_start=load)
    RAW.write_text(json.dumps(runs, indent=1) + "\n")


def shortened(name):
    for cut in ("/manual_time", "/repeats:5", "/iterations:1", "_median", "/threads:1"):
        name = name.replace(cut, "")
    return name.replace("/threads:2", ", two threads")


def page(runs):
    context = runs["context"]
    median = {shortened(row["name"]): row for row in runs["benchmarks"]
              if row.get("aggregate_name", "median") == "median" and "error_occurred" not in row}
    spread = {shortened(row["name"].replace("_cv", "")): row["real_time"] for row in runs["benchmarks"] if row.get("aggregate_name") == "cv"}
    rate = {name: row.get("members_per_s", 0.0) for name, row in median.items()}
    kernels = [name.split("/")[1] for name in median if name.startswith("floor/")]
    best = kernels[0]
    lines = []
    say = lines.append
    say("# How fast the forecast is\n")
    say("Printed by `tools/measure_speed.py` from one run of `benchmarks/brew`; raw rows: [speed.json](speed.json). Every solver first")
    say("shows that its answers hold to the accuracy rule (oxygen within 0.05 mg/L and every biomass within 0.5 % of CVODE at a relative")
    say("tolerance of 1e-10, on 2,000 members of the test bucket, 36 h, 145 output hours), then is timed: medians of five runs.\n")
    say(f"Measured {context['day']} at commit {context['commit']} on {context['processor']}, {context['num_cpus']} cores, {context['compiler']}; "
        f"load at the start {context['load_at_start']:.2f}.\n")
    say("## Beside general integrators\n")
    say("What ships tries harder than the rule asks on this bucket, since it must hold on any plan; *cheapest* is the loosest setting that")
    say("holds on these members, which is what the peers were given too. Peers are compiled for this machine with the model's analytic,")
    say("sparse Jacobian.\n")
    say("| solver | members/s | spread | times CVODE | times LSODA | worst oxygen, mg/L | worst biomass |\n|---|---|---|---|---|---|---|")
    for name, row in median.items():
        if name.split("/")[0] not in ("solver", "solver_cheapest", "peer"):
            continue
        two = ", two threads" if name.endswith("two threads") else ""
        cvode = rate.get("peer/cvode" + two, 0.0)
        lsoda = rate.get("peer/lsoda", 0.0)
        effort = f", relative {row['relative']:g}" if "relative" in row else ""
        say(f"| {name.replace('solver/', 'barm ').replace('solver_cheapest/', 'barm, cheapest, ').replace('peer/', '')}{effort} | {rate[name]:,.0f} | "
            f"{100 * spread.get(name, 0):.1f} % | {rate[name] / cvode if cvode else 0:.1f} | {rate[name] / lsoda if lsoda and not two else 0:.1f} | "
            f"{row['worst_oxygen_mg_per_l']:.4f} | {100 * row['worst_biomass_share']:.3f} % |".replace("| 0.0 |", "| |"))
    say("\n## Against the floor\n")
    say("The solver's additions, multiplications, divisions and roots, counted by running it on numbers that count; the floor is the time")
    say("this machine would take for as many at its measured multiply-and-add peak.\n")
    say("| instructions | peak, Gflop/s | flops a member | steps (rejected) a member | share of the peak |\n|---|---|---|---|---|")
    for kernel in kernels:
        row = median["floor/" + kernel]
        say(f"| {kernel} | {row['peak_gflops']:.0f} | {row['flops_per_member']:,.0f} | {row['steps_per_member']:.0f} ({row['rejected_per_member']:.0f}) | "
            f"{100 * rate['solver/' + kernel] / rate['floor/' + kernel]:.0f} % |")
    say("\n## Growth\n")
    say("Whole forecasts with bands, by members; and the solver alone on 1,024 members, by hours looked ahead.\n")
    say("| | ms | ms a thousand members |\n|---|---|---|")
    for name, row in median.items():
        if name.startswith("members:"):
            count = int(name.split(":")[1])
            say(f"| {count:,} members | {row['real_time']:,.1f} | {1000 * row['real_time'] / count:.1f} |")
    for name, row in median.items():
        if name.startswith("horizon_h:"):
            say(f"| {name.split(':')[1]} h | {row['real_time']:,.1f} | {row['real_time'] / 1.024:.1f} |")
    say("\n## In use, one thread\n")
    say("| | |\n|---|---|")
    say(f"| forecast of 256 members, 36 h, six bands of five quantiles, and the fall after the air stops | {median['forecast_of_256_with_bands']['real_time']:.1f} ms |")
    say(f"| learning from 40 readings | {median['learn_from_40_readings']['real_time']:.0f} ms |")
    for name, row in median.items():
        if name.startswith("memory_of"):
            say(f"| peak memory of 65,536 members, keeping {name.split('/')[1]} | {row['peak_mib']:.0f} MiB |")
    say("\n## What it says\n")
    two = rate[f"solver/{best}, two threads"] / rate[f"solver/{best}"]
    say(f"- Against CVODE {rate['solver/' + best] / rate['peer/cvode']:.0f} times as shipped and {rate['solver_cheapest/' + best] / rate['peer/cvode']:.0f} times "
        f"with equal effort; against LSODA {rate['solver/' + best] / rate['peer/lsoda']:.0f} and {rate['solver_cheapest/' + best] / rate['peer/lsoda']:.0f}.")
    say(f"- Two threads give {two:.2f} times one.")
    PAGE.write_text("\n".join(lines) + "\n" + NOTES)


NOTES = """- The goal of 80 times CVODE came from a stand-in model of 8 states. The real one has 17 states and 24 processes, so that a step
  costs about three times as much, while CVODE pays little more: it factors its matrix rarely, and here it is given the compiled sparse
  Jacobian. We report what is, and leave the goal standing.
- Cost a member grows by about half from 64 members to 65,536: what is kept of them no longer fits the caches. The goal, no growth,
  is not met.
- Tried and left out: registers of twice the width (twice as slow: the compiler splits them badly), `-O2` (a fifth slower), leaving out
  the compiler's own vectors (no gain), building for this machine only (no gain).
- The number of instructions of a fixed forecast is counted in every `./check` and may not grow by more than 3 %
  (`tools/check_instructions.py`).
"""


def main():
    if "--table-only" not in sys.argv:
        measure()
    page(json.loads(RAW.read_text()))


main()
