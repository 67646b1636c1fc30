#!/usr/bin/env python3
"""Puts the files of a folder inside the binary: writes a C++ source that holds each, a compressed copy, its type and a tag.

usage: pack_pages.py FOLDER OUTPUT.cpp
"""
import gzip
import hashlib
import pathlib
import re
import sys

TYPES = {
    ".html": "text/html; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".mjs": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8", ".svg": "image/svg+xml", ".png": "image/png", ".ico": "image/x-icon",
    ".json": "application/json", ".webmanifest": "application/manifest+json", ".txt": "text/plain; charset=utf-8",
    ".woff2": "font/woff2",
}
# Names that change with their content: Vite writes index-Bk3v9xQ2.js below assets/.
FOREVER = re.compile(r"^/assets/.+[-.][A-Za-z0-9_-]{8,}\.[a-z0-9]+$")


def main():
    folder, output = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
    blobs, rows = [], []

    def blob(path):
        number = len(blobs)
        name = f"barm_page_{number}"
        blobs.append(
            f'__asm__(".section .rodata\\n{name}:\\n.incbin \\"{path}\\"\\n{name}_end:\\n.previous\\n");\n'
            f"extern const char {name}[];\nextern const char {name}_end[];\n")
        return f"{{{name}, static_cast<std::size_t>({name}_end - {name})}}"

    small = output.parent / "pages_gzip"
    small.mkdir(parents=True, exist_ok=True)
    files = sorted(path for path in folder.rglob("*") if path.is_file())
    if not any(path.name == "index.html" for path in files):
        sys.exit(f"{folder} holds no index.html")
    for number, path in enumerate(files):
        kind = TYPES.get(path.suffix)
        if kind is None:
            sys.exit(f"{path}: no media type is known for {path.suffix!r}")
        content = path.read_bytes()
        packed = gzip.compress(content, 9, mtime=0)
        compressed = "{}"
        if len(packed) < 0.9 * len(content):
            (small / f"{number}.gz").write_bytes(packed)
            compressed = blob(small / f"{number}.gz")
        url = "/" + path.relative_to(folder).as_posix()
        tag = hashlib.sha256(content).hexdigest()[:20]
        rows.append(f'      {{"{url}", "{kind}", {blob(path)}, {compressed}, "\\"{tag}\\"", '
                    f'{"true" if FOREVER.match(url) else "false"}}},\n')
    output.write_text(
        "// Made by src/serve/pack_pages.py: the screens inside the binary.\n#include \"serve/pages.h\"\n\n" +
        "".join(blobs) +
        "\nnamespace barm::serve {\n\nconst std::vector<Page>& all_pages() {\n  static const std::vector<Page> all = {\n" +
        "".join(rows) + "  };\n  return all;\n}\n\n}  // namespace barm::serve\n")


main()
