#!/usr/bin/env python3
"""Each rule script finds a house that breaks its rule, says where, and leaves a sound house alone."""
import json
import pathlib
import shutil
import subprocess
import sys
import tempfile
import unittest

TOOLS = pathlib.Path(__file__).resolve().parent.parent
ROOMS = "foreach(room quantity water records cards operations cli)\nendforeach()\n"
SOURCES = "| key | source | year | seen |\n|---|---|---|---|\n| S01 | A table | 1984 | yes |\n| practice | common practice | | no |\n"
WORDS = '["water.oxygen.low"]\nkind = "doubt"\nen = "Only {given}."\nes = "Solo {given}."\n'


class Rules(unittest.TestCase):
    def setUp(self):
        self.house = pathlib.Path(tempfile.mkdtemp())
        self.addCleanup(shutil.rmtree, self.house)
        self.write("src/CMakeLists.txt", ROOMS)
        self.write("docs/sources.md", SOURCES)

    def write(self, name, text):
        path = self.house / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)

    def run_rule(self, rule):
        return subprocess.run([sys.executable, TOOLS / f"check_{rule}.py", self.house], capture_output=True, text=True)

    def assert_sound(self, rule):
        done = self.run_rule(rule)
        self.assertEqual((done.returncode, done.stdout, done.stderr), (0, "", ""))

    def assert_broken(self, rule, *said):
        done = self.run_rule(rule)
        self.assertEqual(done.returncode, 1, done.stdout + done.stderr)
        for text in said:
            self.assertIn(text, done.stdout)

    def test_directions_let_a_room_use_those_below(self):
        self.write("src/water/oxygen.h", '#include "quantity/answer.h"\n#include <cmath>\n// std::cout is only spoken of\n')
        self.write("src/cli/main.cpp", '#include "water/oxygen.h"\n#include <iostream>\nvoid f() { std::cout << 1; }\n')
        self.write("src/records/store.cpp", "#include <fstream>\nconst char* name() { return \"printf(\"; }\n")
        self.assert_sound("directions")

    def test_directions_find_an_include_that_points_up(self):
        self.write("src/quantity/text.cpp", '\n#include "water/oxygen.h"\n')
        self.assert_broken("directions", "src/quantity/text.cpp:2: quantity reaches up to water")

    def test_directions_find_cards_that_use_operations(self):
        self.write("src/cards/card.cpp", '#include "operations/ask.h"\n')
        self.assert_broken("directions", "cards reaches up to operations")

    def test_directions_find_an_include_without_its_room(self):
        self.write("src/water/oxygen.cpp", '#include "oxygen.h"\n')
        self.assert_broken("directions", "oxygen.h is named without its room")

    def test_directions_find_a_folder_that_is_no_room(self):
        self.write("src/utils/text.h", "")
        self.assert_broken("directions", "utils is not a room")

    def test_directions_find_what_a_pure_room_may_not_do(self):
        for line in ("#include <fstream>", "#include <iostream>", "#include <filesystem>", '#include "data/embedded.h"',
                     "auto now = std::chrono::system_clock::now();", "auto t = std::time(nullptr);", "std::random_device d;",
                     'auto p = getenv("HOME");', 'printf("%d", 1);', "std::cerr << 1;", "std::exit(1);"):
            with self.subTest(line):
                self.write("src/water/oxygen.cpp", line + "\n")
                self.assert_broken("directions", "src/water/oxygen.cpp:1: water ")

    def test_directions_find_printing_outside_the_command(self):
        self.write("src/records/store.cpp", "void f() { std::cout << 1; }\n")
        self.assert_broken("directions", "records may not use std::cout")

    def test_words_leave_honest_texts_alone(self):
        self.write("data/messages/water.toml", 'en = "A question of food safety: wear a mask."\n')
        self.write("data/messages/air.toml", 'en = "Use finer, clean stones and a clean vessel."\n')
        self.write("README.md", "Nothing here calls a tea harmless. Look in docs/home/page.md.\n")
        self.assert_sound("words")

    def test_words_find_promises_and_leftovers(self):
        for name, text in (("README.md", "The tea is " + "safe."), ("docs/a.md", "It is pathogen" + "-free."),
                           ("data/foods.toml", 'note = "El té es ' + 'seguro"'), ("data/messages/a.toml", 'en = "A sa' + 'fe tea."'),
                           ("data/rules/a.toml", 'text_en = "Then it is sa' + 'fely eaten."'),
                           ("data/messages/b.toml", 'en = "Use compost with a clean laboratory te' + 'st."'),
                           ("data/messages/c.toml", 'es = "Con análisis lim' + 'pio."'),
                           ("src/a/a.h", "// TO" + "DO later"), ("tools/a.sh", "cd /ho" + "me/someone")):
            with self.subTest(name):
                self.write(name, text + "\n")
                self.assert_broken("words", f"{name}:1: says ")
                (self.house / name).unlink()

    def test_sources_accept_known_keys_and_honest_words(self):
        self.write("data/foods.toml", 'source = "S01, table I"\n[molasses]\ncod = 1.0\n[kelp]\ncod = 2\nsource = "common practice"\n')
        self.write("tests/published/a.csv", "# source: S01\nvalue,source\n1,S01\n")
        self.assert_sound("sources")

    def test_sources_find_a_figure_without_one(self):
        self.write("data/foods.toml", "[[food]]\ncod = [1.0, 2.0]\n")
        self.assert_broken("sources", "food: cod without a source")

    def test_sources_find_an_unknown_key(self):
        self.write("data/foods.toml", '[a]\nx = 1\nsource = "S99"\n')
        self.write("src/water/oxygen.h", "// Source: S98.\n")
        self.write("tests/published/a.csv", "# source: S01\nvalue,source\n1,S97\n")
        self.assert_broken("sources", "S99 is not in", "src/water/oxygen.h:1: S98 is not in", "tests/published/a.csv:3: S97")

    def test_sources_find_a_source_that_says_nothing(self):
        self.write("data/foods.toml", '[a]\nx = 1\nsource = "somebody said"\n')
        self.write("tests/published/a.csv", "value\n1\n")
        self.write("tests/published/b.csv", "# source: a book\nvalue\n1\n")
        self.write("tests/published/c.csv", "# source: row by row\nvalue,source\n1,a book\n2,\n")
        self.assert_broken("sources", "names no key", "tests/published/a.csv:1: the first line",
                           "tests/published/b.csv:1: '# source: a book' names no key", "tests/published/c.csv:4: the row has no")

    def test_messages_accept_a_sound_catalogue(self):
        self.write("data/messages/water.toml", WORDS)
        self.write("src/water/oxygen.cpp", 'auto code = "water.oxygen.low";\n')
        self.assert_sound("messages")

    def test_messages_accept_a_code_put_together(self):
        self.write("data/messages/water.toml", WORDS)
        for start in ("water.oxygen.", "water.oxygen.lo_"):
            self.write("data/messages/water.toml", WORDS.replace("low", "lo_w"))
            self.write("src/water/oxygen.cpp", f'auto code = std::string("{start}") + name;\n')
            self.assert_sound("messages")

    def test_messages_find_a_code_without_words(self):
        self.write("src/water/oxygen.cpp", '\nauto code = "water.oxygen.lost";\n')
        self.assert_broken("messages", "src/water/oxygen.cpp:2: water.oxygen.lost has no words")

    def test_messages_find_words_nothing_says(self):
        self.write("data/messages/water.toml", WORDS)
        self.write("src/water/oxygen.cpp", "// water.oxygen.low\n")
        self.assert_broken("messages", "water.oxygen.low is said by nothing")

    def test_messages_find_a_code_worded_twice(self):
        self.write("data/messages/air.toml", WORDS)
        self.write("data/messages/water.toml", WORDS)
        self.assert_broken("messages", "water.oxygen.low has words in air.toml already")

    def test_messages_find_languages_that_differ(self):
        self.write("src/water/oxygen.cpp", 'auto code = "water.oxygen.low";\n')
        for old, new, said in (("Solo {given}", "Solo {least}", "different facts: given, least"), ('es = "Solo {given}."', "", "not both"),
                               ('"doubt"', '"joke"', "kind 'joke'"), ('kind = "doubt"', 'kind = "doubt"\nnext_en = "Go."', "next_en and")):
            with self.subTest(said):
                self.write("data/messages/water.toml", WORDS.replace(old, new))
                self.assert_broken("messages", said)

    def test_links_find_what_is_not_there(self):
        self.write("docs/README.md", "[sources](sources.md) [web](https://example.org) [a part](#part)\n")
        self.write("src/water/oxygen.h", "// Model: docs/sources.md\n")
        self.assert_sound("links")
        self.write("docs/README.md", "[lost](water/lost.md)\n")
        self.write("src/water/oxygen.h", "// Model: docs/water/oxygen.md\n")
        self.assert_broken("links", "docs/README.md:1: water/lost.md", "src/water/oxygen.h:1: docs/water/oxygen.md")

    def test_format_finds_a_crooked_file(self):
        shutil.copy(TOOLS.parent / ".clang-format", self.house)
        self.write("src/water/oxygen.h", "int one();\n")
        self.assert_sound("format")
        self.write("src/water/oxygen.h", "int   one( );\n")
        self.assert_broken("format", "src/water/oxygen.h:1: not laid out")

    def write_commands(self, *sources):
        commands = [{"command": f"g++ -std=c++20 -I{self.house}/src -c {source}", "file": str(self.house / source),
                     "directory": str(self.house)} for source in sources]
        self.write("build/release/compile_commands.json", json.dumps(commands))

    def test_headers_alone_find_one_that_leans_on_another(self):
        self.write_commands()
        self.write("src/water/oxygen.h", "#pragma once\n#include <string>\nstd::string name();\n")
        self.assert_sound("headers_alone")
        self.write("src/water/oxygen.h", "std::string name();\n")
        self.assert_broken("headers_alone", "src/water/oxygen.h:1: does not compile alone")

    def test_lint_finds_a_fault(self):
        shutil.copy(TOOLS.parent / ".clang-tidy", self.house)
        self.write_commands("src/water/oxygen.cpp")
        self.write("src/water/oxygen.cpp", "int one() { return 1; }\n")
        self.assert_sound("lint")
        self.write("src/water/oxygen.cpp", "int* none() { return 0; }\n")
        self.assert_broken("lint", "src/water/oxygen.cpp:1: use nullptr")


unittest.main()
