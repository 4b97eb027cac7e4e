import type { Setup } from '../../src/acoustics/setup.js';
import { type Axis, surfaceSides } from './surfaceSides.js';

export interface PlacedSurface {
  /** Which of the set-up's surfaces. */
  readonly index: number;
  readonly axis: Axis;
  readonly end: -1 | 1;
  /** Where the plane cuts its axis, in metres. */
  readonly atM: number;
}

/** Speaker and microphone on one axis, in metres. */
export interface AxisPlace {
  readonly speakerM: number;
  readonly microphoneM: number;
  /** The surface that the two are measured from; absent where the set-up has none on this axis. */
  readonly from?: PlacedSurface;
}

/** A set-up laid out in space. */
export interface PlacedSetup {
  readonly axes: Readonly<Record<Axis, AxisPlace>>;
  /** In the order of the set-up. */
  readonly surfaces: readonly PlacedSurface[];
}

const AXES = ['x', 'y', 'z'] as const;

/**
 * Lays a set-up out. What its distances leave open is assumed:
 *
 * - Planes stand at right angles to each other. On every axis the lower plane (behind, left, below) that is nearest to
 *   the speaker is the origin; where there is none at the lower end, the nearest at the other.
 * - Where more planes lie on one axis, speaker and microphone stand as that one has it, and every other is
 *   drawn half-way between what its two distances say; a tape's error shows there and nowhere else.
 * - On an axis without a plane, speaker and microphone stand level; only along x, the way to the listener, is what the
 *   straight distance leaves over put between them.
 */
export function placeSetup(setup: Setup): PlacedSetup {
  const sides = surfaceSides(setup);
  const axes = Object.fromEntries(AXES.map((axis) => [axis, firstPlace(setup, sides, axis)])) as Record<
    Axis,
    AxisPlace
  >;
  if (!axes.x.from) axes.x = { speakerM: 0, microphoneM: remainderM(setup, axes) };
  const surfaces = sides.map(({ axis, end }, index): PlacedSurface => {
    const { speakerM, microphoneM } = axes[axis];
    const { speakerDistance, microphoneDistance } = setup.surfaces[index]!;
    const atM = (speakerM + microphoneM + end * (speakerDistance.m + microphoneDistance.m)) / 2;
    return { index, axis, end, atM };
  });
  return { axes, surfaces };
}

function firstPlace(setup: Setup, sides: ReturnType<typeof surfaceSides>, axis: Axis): AxisPlace {
  const speakerM = (index: number) => setup.surfaces[index]!.speakerDistance.m;
  const onAxis = sides.flatMap((side, index) => (side.axis === axis ? [{ ...side, index }] : []));
  const lower = onAxis.filter(({ end }) => end === -1);
  const [from] = (lower.length > 0 ? lower : onAxis).sort((a, b) => speakerM(a.index) - speakerM(b.index));
  if (!from) return { speakerM: 0, microphoneM: 0 };
  const { speakerDistance, microphoneDistance } = setup.surfaces[from.index]!;
  return {
    speakerM: -from.end * speakerDistance.m,
    microphoneM: -from.end * microphoneDistance.m,
    from: { ...from, atM: 0 },
  };
}

function remainderM({ microphoneDistance }: Setup, { y, z }: Record<Axis, AxisPlace>): number {
  const sideways = (y.microphoneM - y.speakerM) ** 2 + (z.microphoneM - z.speakerM) ** 2;
  return Math.sqrt(Math.max(0, microphoneDistance.m ** 2 - sideways));
}
