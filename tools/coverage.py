#!/usr/bin/env python3
"""Which share of the lines of each room the tests run. Builds the coverage preset and runs the tests in it first."""
import collections
import json
import subprocess

import house


def lines_run(build):
    """Source file -> line -> how often it ran, over all objects that hold it."""
    files = collections.defaultdict(lambda: collections.defaultdict(int))
    counters = sorted(str(path) for path in build.rglob("*.gcda"))
    done = subprocess.run(["gcov", "--json-format", "--stdout", *counters], capture_output=True, text=True, cwd=build, check=True)
    for document in done.stdout.splitlines():
        for entry in json.loads(document)["files"]:
            for line in entry["lines"]:
                files[entry["file"]][line["line_number"]] += line["count"]
    return files


def main():
    top = house.root(__doc__)
    build = top / "build/coverage"
    for command in (["cmake", "--preset", "coverage"], ["cmake", "--build", "--preset", "coverage", "--", "--quiet"],
                    ["ctest", "--preset", "coverage", "--quiet", "--exclude-regex", "slow|deep"]):
        subprocess.run(command, cwd=top, check=True, stdout=subprocess.DEVNULL)
    total = collections.Counter()
    run = collections.Counter()
    for name, lines in lines_run(build).items():
        path = (build / name).resolve()
        if path.is_relative_to(top / "src"):
            room = path.relative_to(top / "src").parts[0]
            total[room] += len(lines)
            run[room] += sum(count > 0 for count in lines.values())
    for room in house.rooms(top):
        if total[room]:
            print(f"{room:12} {run[room]:6} of {total[room]:6} lines  {100 * run[room] / total[room]:5.1f} %")
    print(f"{'all':12} {run.total():6} of {total.total():6} lines  {100 * run.total() / max(1, total.total()):5.1f} %")


main()
