#!/usr/bin/env python3
"""Nothing promises what cannot be known, and nothing is left over from somebody's desk.

No text calls a tea harmless or a result spotless; no file holds a path of the machine it was written on, or a mark of unfinished work.
"""
import re

import house

TEXT = (".md", ".toml", ".h", ".cpp", ".inc", ".in", ".txt", ".csv", ".py", ".sh", ".json", ".yml", ".cmake", ".ts", "")
# The patterns are spelled so that this file does not match them.
PROMISES = [
    r"\b(is|are|be|as|now|perfectly|completely|quite) (safe)\b", r"\bpathogen[- ](free)\b", r"\b(safe) to (use|drink|eat|spray)\b",
    r"\b(es|son|está|están|ser) (segur)[oa]s?\b", r"\blibres? de (patógenos)\b",
]
IN_MESSAGES = [
    r"\b(safe)(ly)?\b", r"\b(segur)[oa]s?\b",
    # Of a result, never of a vessel: a test is passed, and what was looked for was not found.
    r"\bclean (?:laboratory |lab )?(tests?|results?|reports?|samples?|compost|tea|brew|lot|bill)\b",
    r"\b(?:tests?|tested|comes? back|came back|results?) (?:is |are |was |were )?(clean)\b",
    r"\b(?:análisis|resultados?|pruebas?|muestras?|composta|té) (limpi)[oa]s?\b",
]
WORDS_OF_RULES = (("data", "messages"), ("data", "rules"))
LEFT_OVERS = [r"(?<![\w.])/(home|root|tmp|work|mnt|Users)/\w", r"\b(TO)(?:DO)\b", r"\b(FIX)(?:ME)\b", r"\bXX(?:X)\b"]


def patterns_for(inside):
    found = list(LEFT_OVERS)
    if inside.parts[0] != "tools":
        found += PROMISES
    if inside.parts[:2] in WORDS_OF_RULES:
        found += IN_MESSAGES
    return [re.compile(pattern, re.I if pattern not in LEFT_OVERS else 0) for pattern in found]


def main():
    top = house.root(__doc__)
    report = house.Report(top)
    for path in house.files(top):
        if path.suffix not in TEXT or path.name == "LICENSE":
            continue
        patterns = patterns_for(path.relative_to(top))
        for number, line in enumerate(path.read_text().splitlines(), 1):
            for pattern in patterns:
                match = pattern.search(line)
                if match:
                    report.add(path, number, f"says {match.group()!r}")
    report.finish("words")


main()
