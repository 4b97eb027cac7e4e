/** What the chart shows: frequencies, levels in the upper panel, gains in the lower one. */
export interface View {
  readonly fromHz: number;
  readonly toHz: number;
  readonly lowDb: number;
  readonly highDb: number;
  readonly eqLowDb: number;
  readonly eqHighDb: number;
}

/** Where the two panels lie, in pixels of the chart. */
export interface Frame {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly right: number;
  /** Upper panel. */
  readonly top: number;
  readonly middle: number;
  /** Lower panel. */
  readonly lower: number;
  readonly bottom: number;
}

const MARGIN = { top: 34, bottom: 40 };
/** Share of the height that the upper panel takes, and the gap between the two. */
const UPPER = 0.6;
const GAP = 26;

export function frameOf(width: number, height: number): Frame {
  const left = width < 520 ? 38 : 52;
  const right = width - (width < 520 ? 8 : 14);
  const plot = height - MARGIN.top - MARGIN.bottom;
  const middle = MARGIN.top + Math.round((plot - GAP) * UPPER);
  return {
    width,
    height,
    left,
    right,
    top: MARGIN.top,
    middle,
    lower: middle + GAP,
    bottom: height - MARGIN.bottom,
  };
}

export function xOf({ left, right }: Frame, { fromHz, toHz }: View, hz: number): number {
  return left + ((right - left) * Math.log(hz / fromHz)) / Math.log(toHz / fromHz);
}

export function hzAt({ left, right }: Frame, { fromHz, toHz }: View, x: number): number {
  return fromHz * (toHz / fromHz) ** ((x - left) / (right - left));
}

export function yOf({ top, middle }: Frame, { lowDb, highDb }: View, db: number): number {
  return middle - ((middle - top) * (db - lowDb)) / (highDb - lowDb);
}

export function dbAt({ top, middle }: Frame, { lowDb, highDb }: View, y: number): number {
  return lowDb + ((middle - y) / (middle - top)) * (highDb - lowDb);
}

export function eqYOf({ lower, bottom }: Frame, { eqLowDb, eqHighDb }: View, db: number): number {
  return bottom - ((bottom - lower) * (db - eqLowDb)) / (eqHighDb - eqLowDb);
}

export function eqDbAt({ lower, bottom }: Frame, { eqLowDb, eqHighDb }: View, y: number): number {
  return eqLowDb + ((bottom - y) / (bottom - lower)) * (eqHighDb - eqLowDb);
}

/** A curve as the data of an SVG path. */
export function pathOf(
  x: (hz: number) => number,
  y: (db: number) => number,
  frequencyHz: ArrayLike<number>,
  levelDb: ArrayLike<number>,
  { fromHz, toHz }: Pick<View, 'fromHz' | 'toHz'>,
): string {
  let path = '';
  const last = frequencyHz.length - 1;
  for (let i = 0; i <= last; i++) {
    // One point beyond each end, so that the curve runs out of the panel.
    if (frequencyHz[Math.min(i + 1, last)]! < fromHz || frequencyHz[Math.max(i - 1, 0)]! > toHz) continue;
    path += `${path === '' ? 'M' : 'L'}${x(frequencyHz[i]!).toFixed(1)} ${y(levelDb[i]!).toFixed(1)}`;
  }
  return path;
}
