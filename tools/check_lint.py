#!/usr/bin/env python3
"""No file of src/ is faulted by clang-tidy as .clang-tidy sets it. Takes minutes, so `./check --deep` runs it.

Needs a configured build (`cmake --preset release`), whose compile commands it reads.
"""
import concurrent.futures
import re
import subprocess
import sys

import house

JOBS = 2


def main():
    top = house.root(__doc__)
    build = top / "build/release"
    if not (build / "compile_commands.json").exists():
        sys.exit("lint: configure first: cmake --preset release")
    report = house.Report(top)

    def lint(path):
        # The commands are written for GCC, which knows warnings that clang does not.
        command = ["clang-tidy-14", "--quiet", "--extra-arg=-Wno-unknown-warning-option", "--extra-arg=-fbracket-depth=1024", "-p", str(build),
                   str(path)]
        return path, subprocess.run(command, capture_output=True, text=True)

    seen = set()
    with concurrent.futures.ThreadPoolExecutor(JOBS) as pool:
        for path, done in pool.map(lint, list(house.files(top, "src", endings=(".cpp",)))):
            faults = re.findall(r"^(\S+?):(\d+):\d+: error: (.*)$", done.stdout, re.M)
            for name, line, what in faults:
                if (name, line, what) not in seen:
                    seen.add((name, line, what))
                    report.add(house.pathlib.Path(name), int(line), what)
            if done.returncode and not faults:
                report.add(path, 1, (done.stderr or done.stdout).strip())
    report.finish("lint")


main()
