import type { Setup, Surface } from '../src/acoustics/setup.js';
import { InputError } from '../src/inputError.js';
import { within } from '../src/schema/quantity.js';
import { MAX_DISTANCE_M } from '../src/schema/setup.js';
import { parseLengthM } from '../src/units/parseLengthM.js';
import { faces, surfaceNamed } from '../src/whatIf/movePlacement.js';
import type { VariedSpan } from '../src/whatIf/placementSteps.js';
import { gather } from './gather.js';

/** What the command line says of moving the speaker, as it was written. */
export interface VaryFlags {
  readonly vary?: readonly string[];
  readonly from?: string;
  readonly to?: string;
  readonly step?: string;
}

const RANGE = /^(.*\S)\s*:\s*(.*\S)\s+to\s+(\S.*?)(?:\s+by\s+(\S.*))?$/is;
/** Of the distance that the set-up has, where no span is given. */
const NEAREST = 0.5;
const FARTHEST = 2;
const LEAST_M = 0.05;

/** As far as a set-up takes them. */
const distanceM = within(
  parseLengthM,
  0,
  MAX_DISTANCE_M,
  `0 to ${MAX_DISTANCE_M} m (a length without a unit is in metres)`,
);

/**
 * The spans of `--vary`. A surface by its name alone takes --from, --to and --step (half to double of what the set-up
 * has, and not beyond the wall across, where they are not given); "name: 10 cm to 1 m by 5 cm" carries its own.
 *
 * @throws InputError with every problem
 */
export function variedSpans(setup: Setup, { vary = [], from, to, step }: VaryFlags): VariedSpan[] {
  const known = (text: string) => setup.surfaces.some(({ name }) => name === text.trim());
  const written = vary.map((text) => ({ text, range: known(text) ? null : RANGE.exec(text) }));
  const bare = written.filter(({ range }) => !range);
  if (bare.length === 0 && [from, to, step].some((flag) => flag !== undefined)) {
    throw new InputError(
      vary.length === 0
        ? '--from, --to and --step: found without --vary, expected the surface they belong to: --vary "wall behind"'
        : '--from, --to and --step: found beside --vary with spans of their own, expected one or the other',
    );
  }
  if (bare.length > 1) {
    throw new InputError(
      `--vary: found ${bare.map(({ text }) => `"${text}"`).join(' and ')}, expected a span with each: --vary "${bare[0]!.text.trim()}: 10 cm to 1 m" --vary "${bare[1]!.text.trim()}: 40 cm to 1.2 m by 10 cm"`,
    );
  }
  const spans: VariedSpan[] = [];
  gather(
    written.map(({ text, range }) => () => {
      const surface = surfaceNamed(setup, (range?.[1] ?? text).trim());
      const hereM = surface.speakerDistance.m;
      const inRoomM = farthestInRoomM(setup, surface);
      const parts = range ? range.slice(2) : [from, to, step];
      const name = range ? `--vary "${surface.name}"` : '';
      const [fromM, toM, stepM] = parts.map((part, i) =>
        part === undefined ? undefined : distanceM(part, name || (['--from', '--to', '--step'] as const)[i]!),
      );
      spans.push({
        surface: surface.name,
        fromM:
          fromM ?? Math.min(Math.max(LEAST_M, rounded(NEAREST * hereM)), toM ?? Number.POSITIVE_INFINITY),
        toM: toM ?? Math.max(Math.min(rounded(FARTHEST * hereM), inRoomM), (fromM ?? 0) + LEAST_M),
        ...(stepM !== undefined && { stepM }),
      });
    }),
  );
  return spans;
}

/** Up to the wall across, where the set-up names one. */
function farthestInRoomM(setup: Setup, surface: Surface): number {
  const across = setup.surfaces.find((other) => faces(setup, surface, other));
  if (!across) return Number.POSITIVE_INFINITY;
  const roomM = Math.min(across.speakerDistance.m, across.microphoneDistance.m) - LEAST_M;
  return rounded(surface.speakerDistance.m + Math.max(0, roomM));
}

const rounded = (m: number) => Math.round(m * 100) / 100;
