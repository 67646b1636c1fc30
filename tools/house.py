"""What the rule scripts share: the files of the house, its rooms, and how a broken rule is reported."""
import argparse
import pathlib
import re
import sys

NOT_OURS = {".git", "build", "out", "node_modules", "__pycache__"}


def root(description):
    """The house to look at: the folder given on the command line, else the one this script stands in."""
    parser = argparse.ArgumentParser(description=description, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("house", nargs="?", default=pathlib.Path(__file__).resolve().parent.parent, type=pathlib.Path)
    return parser.parse_args().house.resolve()


def files(house, *folders, endings=()):
    """Files below the folders (all, when none is named), in a fixed order, without what was built."""
    for top in [house / folder for folder in folders] or [house]:
        for path in sorted(top.rglob("*")):
            inside = path.relative_to(house)
            built = any(part in NOT_OURS or part.startswith("build-") for part in inside.parts)
            if path.is_file() and not built and (not endings or path.suffix in endings):
                yield path


def rooms(house):
    """Rooms from the ground up, as src/CMakeLists.txt lists them."""
    listed = re.search(r"foreach\(room ([^)]*)\)", (house / "src/CMakeLists.txt").read_text())
    return listed.group(1).split()


def code_only(text, keep_strings=False):
    """C++ text with comments blanked, and strings too unless they are wanted; line numbers stay."""
    pattern = r'//[^\n]*|/\*.*?\*/|R"(\w*)\(.*?\)\1"|"(?:\\.|[^"\\\n])*"' + r"|'(?:\\.|[^'\\\n])+'"

    def blank(match):
        comment = match.group().startswith("/")
        if keep_strings and not comment:
            return match.group()
        return ("" if comment else '""') + "\n" * match.group().count("\n")

    return re.sub(pattern, blank, text, flags=re.S)


class Report:
    """Broken rules found so far; `finish` prints them and ends with the status."""

    def __init__(self, house):
        self.house = house
        self.found = []

    def add(self, path, line, what):
        self.found.append(f"{path.relative_to(self.house)}:{line}: {what}")

    def finish(self, rule):
        for line in self.found:
            print(line)
        if self.found:
            print(f"{rule}: {len(self.found)} broken")
        sys.exit(1 if self.found else 0)
