#!/usr/bin/env python3
"""Every figure says where it comes from, and every source it names is a row of docs/sources.md.

In data/: each table with numbers has a `source`, its own or that of the table around it. In tests/published/: the first
line is "# source: ..." with a key, or a column `source` tells it row by row. Keys named in src/, docs/ and tests/ exist.
"""
import csv
import re
import tomllib

import house

KEY = re.compile(r"(?<!coli )\b[SM]\d\d\b")  # but not E. coli M23, a strain
HONEST = {"memory": r"memory", "practice": r"practice", "judged": r"judged"}


def known_keys(top):
    rows = (line.split("|") for line in (top / "docs/sources.md").read_text().splitlines() if line.startswith("| "))
    return {row[1].strip() for row in rows} - {"key"}


def fault(source, known):
    """What is wrong with a source as written; nothing when it names at least one known key and no unknown one."""
    keys = set(KEY.findall(source)) | {key for key, word in HONEST.items() if re.search(word, source)}
    if not keys:
        return f"{source!r} names no key of docs/sources.md"
    unknown = sorted(keys - known)
    return f"{', '.join(unknown)} is not in docs/sources.md" if unknown else ""


def is_figure(value):
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def walk(table, place, has_source, known, say):
    sources = [value for key, value in table.items() if key == "source" or key.endswith("_source")]
    for source in sources:
        wrong = fault(source, known)
        if wrong:
            say(f"{place}: {wrong}")
    has_source = has_source or bool(sources)
    figures = [key for key, value in table.items()
               if is_figure(value) or (isinstance(value, list) and any(map(is_figure, value)))]
    if figures and not has_source:
        say(f"{place}: {', '.join(figures)} without a source")
    for key, value in table.items():
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, dict):
                walk(child, f"{place}.{key}" if place else key, has_source, known, say)


def check_published(path, known, report):
    lines = path.read_text().splitlines()
    if not lines or not lines[0].startswith("# source:"):
        report.add(path, 1, 'the first line is not "# source: ..."')
        return
    rows = [(number, line) for number, line in enumerate(lines, 1) if line and not line.startswith("#")]
    columns = next(csv.reader([rows[0][1]])) if rows else []
    column = next((name for name in ("source", "source_id") if name in columns), None)
    if column is None:
        wrong = fault(lines[0], known)
        if wrong:
            report.add(path, 1, wrong)
        return
    for number, line in rows[1:]:   # the column may tell in words what the key alone does not
        cell = dict(zip(columns, next(csv.reader([line])))).get(column, "")
        unknown = [key for key in KEY.findall(cell) if key not in known]
        if not cell.strip() or unknown:
            report.add(path, number, f"{', '.join(unknown)} is not in docs/sources.md" if unknown else "the row has no source")


def main():
    top = house.root(__doc__)
    known = known_keys(top)
    report = house.Report(top)
    for path in house.files(top, "data", endings=(".toml",)):
        if path.parent.name == "messages":
            continue
        walk(tomllib.loads(path.read_text()), "", False, known, lambda what, path=path: report.add(path, 1, what))
    for path in house.files(top, "tests/published", endings=(".csv",)):
        check_published(path, known, report)
    for path in house.files(top, "src", "docs", "tests", endings=(".h", ".cpp", ".inc", ".md")):
        if path.name == "sources.md":
            continue
        for number, line in enumerate(path.read_text().splitlines(), 1):
            for key in KEY.findall(line):
                if key not in known:
                    report.add(path, number, f"{key} is not in docs/sources.md")
    report.finish("sources")


main()
