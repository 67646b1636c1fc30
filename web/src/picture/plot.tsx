// A picture drawn by uPlot, kept at the size of its place; drawn anew when its data, the theme or the paper change.
import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import uPlot from "uplot";

export interface Drawing {
  data: uPlot.AlignedData;
  shape: string;                                       // what it is made of: another shape is built anew
  x: [number, number];
  y: [number, number];
  /// Frame and curves; ranges and what is drawn beside the curves come from the drawing of the moment.
  options(width: number, height: number, now: () => Drawing): uPlot.Options;
  before?(u: uPlot): void;                             // under the curves
  after?(u: uPlot): void;                              // over them
}

export interface PlotProps {
  drawing: Drawing;
  says: string;          // the same in words, for who does not see it
  kind: string;          // "night", "life": names its place for the style
  revision?: number;     // which change of the plan it shows; told once it is drawn
}

const darkness = matchMedia("(prefers-color-scheme: dark)");

export function Plot({ drawing, says, kind, revision }: PlotProps) {
  const place = useRef<HTMLDivElement>(null);
  const plot = useRef<uPlot | null>(null);
  const latest = useRef(drawing);
  latest.current = drawing;
  const built = useRef("");

  const build = () => {
    const box = place.current;
    if (!box || box.clientWidth === 0) return;
    plot.current?.destroy();
    const options = latest.current.options(box.clientWidth, box.clientHeight, () => latest.current);
    options.hooks = { drawClear: [(u) => latest.current.before?.(u)], draw: [(u) => latest.current.after?.(u)] };
    plot.current = new uPlot(options, latest.current.data, box);
    built.current = latest.current.shape;
  };

  useEffect(() => {
    const box = place.current;
    if (!box) return undefined;
    build();
    let size = `${box.clientWidth} ${box.clientHeight}`;
    const watch = new ResizeObserver(() => {
      const now = `${box.clientWidth} ${box.clientHeight}`;
      if (now === size) return;
      size = now;
      build();
    });
    watch.observe(box);
    darkness.addEventListener("change", build);
    addEventListener("beforeprint", build);
    addEventListener("afterprint", build);
    return () => {
      watch.disconnect();
      darkness.removeEventListener("change", build);
      removeEventListener("beforeprint", build);
      removeEventListener("afterprint", build);
      plot.current?.destroy();
      plot.current = null;
    };
  }, []);

  useLayoutEffect(() => {
    if (plot.current && built.current === drawing.shape) plot.current.setData(drawing.data, true);
    else build();
    if (place.current && revision !== undefined) place.current.dataset["revision"] = String(revision);
  }, [drawing]);

  return <div ref={place} class={`plot plot-${kind}`} role="img" aria-label={says} />;
}
