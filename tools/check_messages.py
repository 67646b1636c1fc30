#!/usr/bin/env python3
"""Every code the program can say has its words in both languages, with the same facts in each, and no words lie unused.

A code is `<room>.<subject>.<what>`; a label of the card may be `<room>.<what>`. Where C++ puts one together, the part before the last name it writes out
("recipe.step.") vouches for the codes below it.
"""
import re
import tomllib

import house

KINDS = {"refusal", "doubt", "warning", "caution", "step", "note", "headline", "mend", "label"}
PAIRS = (("en", "es"), ("next_en", "next_es"))


def check_words(path, code, words, report):
    def say(what):
        report.add(path, 1, f"{code}: {what}")

    if words.get("kind") not in KINDS:
        say(f"kind {words.get('kind')!r} is none of {', '.join(sorted(KINDS))}")
    for key in set(words) - {"kind"} - {key for pair in PAIRS for key in pair}:
        say(f"{key} is not a key of a message")
    for english, spanish in PAIRS:
        texts = [words.get(english, ""), words.get(spanish, "")]
        if english == "en" and not all(texts) or bool(texts[0]) != bool(texts[1]):
            say(f"{english} and {spanish} are not both there")
            continue
        facts = [set(re.findall(r"\{(\w+(?:[:+][\w.]+)?)\}", text)) for text in texts]
        if facts[0] != facts[1]:
            say(f"{english} and {spanish} name different facts: {', '.join(sorted(facts[0] ^ facts[1]))}")


def spoken_codes(top, rooms):
    """Codes written out in src/ and data/, with where they stand; and the beginnings of codes put together there."""
    whole = re.compile(r'"((?:%s)(?:\.[a-z][a-z0-9_]*)*\.[a-z][a-z0-9_]*[a-z0-9])"' % "|".join(rooms))
    start = re.compile(r'"((?:%s)\.(?:[a-z0-9_]+\.)*(?:[a-z0-9_]+_)?)"' % "|".join(rooms))
    codes, starts = {}, set()
    for path in house.files(top, "src", "data", endings=(".h", ".cpp", ".inc", ".toml")):
        if path.parent.name == "messages":
            continue
        text = path.read_text()
        if path.suffix != ".toml":
            text = house.code_only(text, keep_strings=True)
        for number, line in enumerate(text.splitlines(), 1):
            for code in whole.findall(line):
                codes.setdefault(code, (path, number))
            starts.update(start.findall(line))
    return codes, starts


def main():
    top = house.root(__doc__)
    report = house.Report(top)
    rooms = house.rooms(top) + ["units"]
    catalogue = {}
    for path in house.files(top, "data/messages", endings=(".toml",)):
        for code, words in tomllib.loads(path.read_text()).items():
            if code in catalogue:
                report.add(path, 1, f"{code} has words in {catalogue[code].name} already")
            catalogue[code] = path
            if code.split(".")[0] not in rooms or "." not in code:
                report.add(path, 1, f"{code} does not begin with a room")
            check_words(path, code, words, report)
    codes, starts = spoken_codes(top, rooms)
    for code, (path, number) in codes.items():
        if code not in catalogue and code.count(".") > 1:   # shorter ones are mostly fields ("water.volume")
            report.add(path, number, f"{code} has no words in data/messages")
    for code, path in catalogue.items():
        if code not in codes and not any(code.startswith(start) for start in starts):
            report.add(path, 1, f"{code} is said by nothing in src/")
    report.finish("messages")


main()
