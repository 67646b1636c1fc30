// The colours of the page, read where they are drawn, so that a picture follows light, dark and print.
export interface Palette {
  ground: string;
  ink: string;
  quiet: string;
  water: string;
  life: string;
  caution: string;
  stop: string;
  fit: string;
  night: string;
  rule: string;
}

export function palette(): Palette {
  const style = getComputedStyle(document.documentElement);
  const of = (name: string) => style.getPropertyValue(`--${name}`).trim();
  return {
    ground: of("ground"), ink: of("ink"), quiet: of("quiet"), water: of("water"), life: of("life"),
    caution: of("caution"), stop: of("stop"), fit: of("fit"), night: of("night"), rule: of("rule"),
  };
}

/// A colour laid thinly on the ground: "#0b4f6c" at a share of its strength.
export function thin(colour: string, share: number): string {
  const hex = colour.replace("#", "");
  const [red, green, blue] = [0, 2, 4].map((at) => parseInt(hex.slice(at, at + 2), 16));
  return `rgba(${red}, ${green}, ${blue}, ${share})`;
}
