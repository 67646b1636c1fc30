#!/usr/bin/env python3
"""Every header in src/, data/ and tests/ compiles by itself, with the flags its own folder is built with.

Needs a configured build (`cmake --preset release`), whose compile commands it reads.
"""
import concurrent.futures
import json
import shlex
import subprocess
import sys

import house

JOBS = 2


def flags_by_folder(commands):
    """Include folders and definitions of each source folder, as one of its files is compiled."""
    flags = {}
    for entry in commands:
        words = shlex.split(entry["command"])
        kept = []
        for word, following in zip(words, words[1:] + [""]):
            if word.startswith(("-I", "-D", "-std=")):
                kept.append(word)
            elif word == "-isystem":
                kept += [word, following]
        flags.setdefault(entry["file"].rsplit("/", 1)[0], kept)
    return flags


def main():
    top = house.root(__doc__)
    commands = top / "build/release/compile_commands.json"
    if not commands.exists():
        sys.exit("headers_alone: configure first: cmake --preset release")
    flags = flags_by_folder(json.loads(commands.read_text()))
    plain = ["-std=c++20", f"-I{top}", f"-I{top / 'src'}", f"-I{top / 'tests'}"]
    report = house.Report(top)

    def compile_alone(path):
        command = ["g++", "-fsyntax-only", "-Wall", "-Wextra", "-Werror",
                   *flags.get(str(path.parent), []), *plain, "-include", str(path), "-x", "c++", "/dev/null"]
        return path, subprocess.run(command, capture_output=True, text=True)

    headers = list(house.files(top, "src", "data", "tests", endings=(".h",)))
    with concurrent.futures.ThreadPoolExecutor(JOBS) as pool:
        for path, done in pool.map(compile_alone, headers):
            if done.returncode:
                first = next((line for line in done.stderr.splitlines() if "error" in line), done.stderr.strip())
                report.add(path, 1, f"does not compile alone: {first}")
    report.finish("headers_alone")


main()
