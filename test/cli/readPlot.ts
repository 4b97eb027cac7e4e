/** A drawing read as a person with a ruler reads it: from what stands at its axes, and where its lines run. */
export interface ReadPlot {
  /** Frequencies and levels along the line of a colour, in the panel whose axis has `title`. */
  curve(color: string, panel: 0 | 1): { readonly frequencyHz: number[]; readonly levelDb: number[] };
  /** What a tenth of the drawing's unit is worth in dB, to which its coordinates are rounded. */
  readonly tenthDb: readonly [number, number];
}

interface Label {
  readonly x: number;
  readonly y: number;
  readonly text: string;
}

/** Half the height of a digit, by which a label of an axis hangs below its line. */
const HANG = 4;

export function readPlot(svg: string): ReadPlot {
  const labels = [...svg.matchAll(/<text x="([\d.]+)" y="([\d.]+)"[^>]*>([^<]*)<\/text>/g)].map(
    ([, x, y, text]): Label => ({ x: Number(x), y: Number(y), text: text!.replace('\u2212', '-') }),
  );
  const left = Math.min(...labels.filter(({ text }) => /^-?\d+$/.test(text)).map(({ x }) => x));
  const levels = labels.filter(({ x, text }) => x === left && /^-?\d+$/.test(text));
  // Each panel is labelled from the bottom up.
  const second = levels.findIndex(({ y }, i) => i > 0 && y > levels[i - 1]!.y);
  const lowest = Math.max(...labels.filter(({ text }) => text === '1k').map(({ y }) => y));
  const frequencies = labels.filter(({ y, text }) => y === lowest && /^\d+k?$/.test(text));
  const hzOf = (text: string) => Number(text.replace('k', '000'));
  const octaveAt = lineThrough(frequencies.map(({ x, text }) => [x, Math.log2(hzOf(text))]));
  const panels = [levels.slice(0, second), levels.slice(second)].map((each) =>
    lineThrough(each.map(({ y, text }) => [y - HANG, Number(text)])),
  );
  return {
    curve(color, panel) {
      const path = new RegExp(`<path d="([^"]*)" fill="none" stroke="${color}"`).exec(svg)?.[1];
      const points = [...(path ?? '').matchAll(/[ML]([\d.-]+),([\d.-]+)/g)].map(([, x, y]) => [+x!, +y!]);
      return {
        frequencyHz: points.map(([x]) => 2 ** octaveAt(x!)),
        levelDb: points.map(([, y]) => panels[panel]!(y!)),
      };
    },
    tenthDb: [panels[0]!(0) - panels[0]!(0.1), panels[1]!(0) - panels[1]!(0.1)],
  };
}

/** The straight line between the first and the last of some points. */
function lineThrough(points: readonly (readonly [number, number])[]): (at: number) => number {
  const [[x0, y0], [x1, y1]] = [points[0]!, points.at(-1)!];
  return (x) => y0 + ((x - x0) * (y1 - y0)) / (x1 - x0);
}
