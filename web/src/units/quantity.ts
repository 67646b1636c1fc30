// Text with a unit, only as far as a slider needs it. What people write is read by the server; where this table does not
// know a spelling, the slider waits and the text stands.
export type Dimension =
  | "volume" | "mass" | "amount" | "temperature" | "length" | "flow" | "duration" | "pressure" | "concentration";

interface Unit {
  says: string[];      // the first is how we write it
  of: Dimension;
  factor: number;      // inside unit = factor * value + shift; inside: L, g, degC, m, L/h, h, kPa, mg/L
  shift?: number;
  step: number;        // one press of a step key
}

// Exact by definition: US gallon 231 cubic inches, inch 25.4 mm, pound 453.59237 g (as in the unit table of the server).
const us_gallon_l = 3.785411784;
const units: Unit[] = [
  { says: ["L", "l", "litre", "litres", "liter", "liters", "litros", "litro"], of: "volume", factor: 1, step: 1 },
  { says: ["mL", "ml"], of: "volume", factor: 0.001, step: 1 },
  { says: ["US gal", "us gal", "gal (US)"], of: "volume", factor: us_gallon_l, step: 0.5 },
  { says: ["tsp"], of: "volume", factor: us_gallon_l / 768, step: 0.25 },
  { says: ["tbsp"], of: "volume", factor: us_gallon_l / 256, step: 0.5 },
  { says: ["cup", "cups"], of: "volume", factor: us_gallon_l / 16, step: 0.25 },
  { says: ["g"], of: "mass", factor: 1, step: 10 },
  { says: ["kg"], of: "mass", factor: 1000, step: 0.1 },
  { says: ["oz"], of: "mass", factor: 28.349523125, step: 1 },
  { says: ["lb", "lbs"], of: "mass", factor: 453.59237, step: 0.25 },
  { says: ["°C", "degC", "C", "ºC"], of: "temperature", factor: 1, step: 0.5 },
  { says: ["°F", "degF", "ºF"], of: "temperature", factor: 5 / 9, shift: -160 / 9, step: 1 },
  { says: ["cm"], of: "length", factor: 0.01, step: 1 },
  { says: ["m"], of: "length", factor: 1, step: 0.05 },
  { says: ["in", "inches"], of: "length", factor: 0.0254, step: 0.5 },
  { says: ["ft"], of: "length", factor: 0.3048, step: 0.5 },
  { says: ["L/h", "l/h"], of: "flow", factor: 1, step: 50 },
  { says: ["L/min", "l/min"], of: "flow", factor: 60, step: 1 },
  { says: ["US gal/h", "gph"], of: "flow", factor: us_gallon_l, step: 20 },
  { says: ["h", "hours", "horas"], of: "duration", factor: 1, step: 1 },
  { says: ["min"], of: "duration", factor: 1 / 60, step: 5 },
  { says: ["kPa"], of: "pressure", factor: 1, step: 1 },
  { says: ["psi"], of: "pressure", factor: 6.894757293168361, step: 0.25 },
  { says: ["mg/L", "mg/l", "ppm"], of: "concentration", factor: 1, step: 0.1 },
];

export interface Quantity {
  value: number;   // in its own unit
  unit: string;    // as we write it
  inside: number;  // in the one unit of the dimension
  of: Dimension;
}

const fractions: Record<string, string> = { "¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅓": " 1/3", "⅔": " 2/3", "⅛": " 1/8", "⅜": " 3/8" };

/// "2 tbsp 1½ tsp" is read part by part; it is told in the unit of its first part.
export function read(text: string): Quantity | null {
  const plain = text.trim().replace(/[¼½¾⅓⅔⅛⅜]/g, (each) => fractions[each] ?? each).trim();
  const parts = plain.match(/[-+−]?\d+(?:[.,]\d+)?(?:\s+\d+\/\d+|\/\d+)?\s*[^\d+−-]+(?:[-+−][^\d][^\d]*)?/g);
  if (!parts || parts.join("").replace(/\s/g, "") !== plain.replace(/\s/g, "")) return null;
  const all = parts.map(readOne);
  const first = all[0];
  if (!first || all.some((each) => each?.of !== first.of)) return null;
  const inside = all.reduce((sum, each) => sum + (each?.inside ?? 0), 0);
  return { ...first, inside, value: all.length === 1 ? first.value : inUnit(inside, first.unit) };
}

function readOne(text: string): Quantity | null {
  const told = text.trim().match(/^([-+−]?\d+(?:[.,]\d+)?)?(?:(^|\s+)(\d+)\/(\d+)|\/(\d+))?\s*(.+)$/);
  if (!told) return null;
  let number = Number((told[1] ?? "0").replace(",", ".").replace("−", "-"));
  if (told[5] !== undefined) number /= Number(told[5]);
  else if (told[3] !== undefined) number += Number(told[3]) / Number(told[4]);
  const unit = units.find((each) => each.says.includes((told[6] ?? "").trim()));
  if (!unit || !Number.isFinite(number)) return null;
  return { value: number, unit: unit.says[0] ?? "", inside: number * unit.factor + (unit.shift ?? 0), of: unit.of };
}

function named(unit: string): Unit {
  const found = units.find((each) => each.says.includes(unit));
  if (!found) throw new Error(`no unit ${unit}`);
  return found;
}


export function inUnit(inside: number, unit: string): number {
  const { factor, shift } = named(unit);
  return (inside - (shift ?? 0)) / factor;
}

/// One press of a step key: the unit's own step, or the second digit of a large value.
export function stepFor(value: number, unit: string): number {
  return Math.max(named(unit).step, 10 ** (Math.floor(Math.log10(Math.max(Math.abs(value), 1e-9))) - 1));
}

/// A value no finer than it can be meant.
export function tidy(value: number, unit: string): number {
  const step = stepFor(value, unit);
  const fine = named(unit).of === "temperature" || named(unit).of === "duration" ? named(unit).step : step;
  return Number((Math.round(value / fine) * fine).toFixed(4));
}

export const write = (value: number, unit: string) => `${Number(value.toFixed(3))} ${unit}`;
