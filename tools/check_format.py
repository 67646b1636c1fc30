#!/usr/bin/env python3
"""C++ is laid out as .clang-format says; `clang-format-14 -i FILE` does it."""
import re
import subprocess
import sys

import house


def main():
    top = house.root(__doc__)
    report = house.Report(top)
    sources = list(house.files(top, endings=(".h", ".cpp")))
    done = subprocess.run(["clang-format-14", "--dry-run", *map(str, sources)], capture_output=True, text=True)
    if done.returncode:
        sys.exit(f"format: {done.stderr.strip()}")
    places = re.findall(r"^(\S+?):(\d+):\d+: warning", done.stderr, re.M)
    for path in sources:
        lines = [int(line) for name, line in places if name == str(path)]
        if lines:
            report.add(path, lines[0], f"not laid out as .clang-format says, here and in {len(lines) - 1} more places")
    report.finish("format")


main()
