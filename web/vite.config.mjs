import { readFileSync } from "node:fs";
import { defineConfig } from "vite";

// Where the sources of figures stand; a build from a copy of the folder elsewhere names it.
const sources = process.env.BARM_SOURCES ?? "../docs/sources.md";
const data = process.env.BARM_DATA ?? "../data";
const zones = process.env.BARM_ZONES ?? "/usr/share/zoneinfo/zone1970.tab";

/// Tables that the house keeps elsewhere, as small modules, so that nothing is written down twice.
function tables() {
  const made = {
    // docs/sources.md: key -> source, year
    "virtual:sources": () =>
      Object.fromEntries(
        readFileSync(sources, "utf8")
          .split("\n")
          .map((line) => line.split("|").map((cell) => cell.trim()))
          .filter((cells) => cells.length > 4 && /^([A-Z]\d+|memory|practice|judged)$/.test(cells[1] ?? ""))
          .map((cells) => [cells[1], cells[3] ? `${cells[2]} (${cells[3]})` : cells[2]]),
      ),
    // data/foods.toml and data/composts.toml: what a list offers, in both languages
    "virtual:kinds": () => ({
      foods: named(`${data}/foods.toml`, "food"),
      composts: named(`${data}/composts.toml`, "compost"),
    }),
    // The zone database's own table of one town a zone (public domain): zone -> degrees north, degrees east
    "virtual:zones": () =>
      Object.fromEntries(
        readFileSync(zones, "utf8")
          .split("\n")
          .filter((line) => line && !line.startsWith("#"))
          .map((line) => line.split("\t"))
          .map(([, place, zone]) => [zone, degrees(place ?? "")]),
      ),
  };
  return {
    name: "barm-tables",
    resolveId: (id) => (id in made ? `\0${id}` : undefined),
    load: (id) => {
      const make = made[id.slice(1)];
      return id.startsWith("\0virtual:") && make ? `export default ${JSON.stringify(make())};` : undefined;
    },
  };
}

/// The names of each [[row]]: the one the server takes, and how it is told.
function named(file, row) {
  const rows = readFileSync(file, "utf8").split(`[[${row}]]`).slice(1);
  if (rows.length === 0) throw new Error(`no ${row} in ${file}`);
  return rows.map((text) => {
    const of = (key) => text.match(new RegExp(`^${key} = \\[?"([^"]+)"`, "m"))?.[1];
    const id = of("id");
    const [value, en, es] = [of("names") ?? id, of("names") ?? of("english"), of("spanish")];
    if (!id || !value || !en || !es) throw new Error(`a ${row} without a name in ${file}`);
    return { id, value, en, es };
  });
}

/// "+4030-07400" or "+403012-0740023" -> [40.5, -74.0], to a tenth: enough for the sun.
function degrees(place) {
  const halves = place.match(/^([+-])(\d{2})(\d{2})(?:\d{2})?([+-])(\d{3})(\d{2})(?:\d{2})?$/);
  if (!halves) throw new Error(`not a place: ${place}`);
  const [, south, north, northMinutes, west, east, eastMinutes] = halves;
  const tenth = (sign, whole, minutes) =>
    (sign === "-" ? -1 : 1) * Math.round(10 * (Number(whole) + Number(minutes) / 60)) / 10;
  return [tenth(south, north, northMinutes), tenth(west, east, eastMinutes)];
}

export default defineConfig({
  base: "./",
  esbuild: { jsx: "automatic", jsxImportSource: "preact" },
  plugins: [tables()],
  build: {
    outDir: process.env.BARM_WEB_OUT ?? "dist",
    emptyOutDir: true,
    target: "es2021",
    modulePreload: { polyfill: false },
    assetsInlineLimit: 0,
  },
});
