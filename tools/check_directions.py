#!/usr/bin/env python3
"""Includes point only down: a room uses itself and the rooms before it in src/CMakeLists.txt.

Rooms below `records` are pure as well: no clock, file, printing, environment, network or chance of their own. Above
them, up to `operations`, nothing prints, exits or reads the environment; that is left to `cli` and `serve`.
"""
import re

import house

OUTWARD_HEADERS = {
    "fstream", "iostream", "filesystem", "cstdio", "stdio.h", "unistd.h", "ctime", "time.h", "date/tz.h",
    "sys/socket.h", "data/embedded.h", "future", "csignal",
}
PRINTS_OR_EXITS = [
    r"std::(cout|cerr|clog)\b", r"\b(printf|fprintf|puts|fputs|putchar)\s*\(", r"\bfmt::print", r"\bperror\s*\(",
    r"\b(secure_)?getenv\s*\(", r"\b(exit|_exit|quick_exit|abort)\s*\(",
]
OUTWARD = PRINTS_OR_EXITS + [
    r"\b(system|steady|high_resolution|utc|tai)_clock\b", r"\brandom_device\b", r"\bs?rand\s*\(", r"\bfopen\s*\(",
    r"\b(i|o)?fstream\b", r"\btime\s*\(\s*(nullptr|NULL|0)\s*\)", r"\bthread_local\b",
]


def check(path, room, rooms, report):
    text = path.read_text()
    pure = rooms.index(room) < rooms.index("records")
    for number, line in enumerate(house.code_only(text, keep_strings=True).splitlines(), 1):
        included = re.match(r'\s*#\s*include\s*(["<])([^">]+)[">]', line)
        if not included:
            continue
        header = included.group(2)
        first = header.split("/")[0]
        if included.group(1) == '"' and first != "data" and first not in rooms:
            report.add(path, number, f"{header} is named without its room")
        elif first in rooms and rooms.index(first) > rooms.index(room):
            report.add(path, number, f"{room} reaches up to {first} ({header})")
        elif pure and header in OUTWARD_HEADERS:
            report.add(path, number, f"{room} is pure and may not use <{header}>")
    if room in ("cli", "serve"):
        return
    for number, line in enumerate(house.code_only(text).splitlines(), 1):
        for pattern in OUTWARD if pure else PRINTS_OR_EXITS:
            used = re.search(pattern, line)
            if used:
                report.add(path, number, f"{room} may not use {used.group().strip()}")


def main():
    top = house.root(__doc__)
    rooms = house.rooms(top)
    report = house.Report(top)
    for path in house.files(top, "src", endings=(".h", ".cpp", ".inc")):
        room = path.relative_to(top / "src").parts[0]
        if room not in rooms:
            report.add(path, 1, f"{room} is not a room of src/CMakeLists.txt")
        else:
            check(path, room, rooms, report)
    report.finish("directions")


main()
