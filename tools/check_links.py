#!/usr/bin/env python3
"""Every page, picture and file that the documents and comments point to is there."""
import re

import house


def main():
    top = house.root(__doc__)
    report = house.Report(top)
    for path in house.files(top, endings=(".md",)):
        for number, line in enumerate(path.read_text().splitlines(), 1):
            for target in re.findall(r"\]\(([^)#\s]+)[^)]*\)", line):
                if "://" not in target and not target.startswith("mailto:") and not (path.parent / target).exists():
                    report.add(path, number, f"{target} is not there")
    for path in house.files(top, "src", "tests", "data", "cmake"):
        for number, line in enumerate(path.read_text().splitlines(), 1):
            for page in re.findall(r"\bdocs/[\w/]+\.md\b", line):
                if not (top / page).exists():
                    report.add(path, number, f"{page} is not there")
    report.finish("links")


main()
