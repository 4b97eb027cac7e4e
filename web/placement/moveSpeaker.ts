import type { MeasuredLength, Setup, Surface } from '../../src/acoustics/setup.js';
import { InputError } from '../../src/inputError.js';
import { formatLength } from '../../src/units/formatLength.js';
import { type MicrophonePlace, movePlacement } from '../../src/whatIf/movePlacement.js';
import { placeSetup } from './placeSetup.js';
import type { Axis } from './surfaceSides.js';

/** A way in metres along the axes of the plan. */
export type Way = Readonly<Partial<Record<Axis, number>>>;

/** Nearer to a surface the speaker is part of it, and there is no reflection to speak of. */
const CLEARANCE_M = 0.01;

const AXES = ['x', 'y', 'z'] as const;

/**
 * The set-up with the speaker moved along the axes of the plan. The straight distance follows as `movePlacement` has
 * it; beyond that all surfaces at right angles to the way follow, at either end of their axis, whether or not the
 * set-up tells the room's size. Along an axis on which there is no surface the set-up cannot hold a move: it is left out.
 *
 * @throws InputError where the speaker, or the microphone that comes along, cannot be there
 */
export function moveSpeaker(setup: Setup, way: Way, microphone: MicrophonePlace): Setup {
  const { axes, surfaces: placed } = placeSetup(setup);
  const wayM = (axis: Axis) => (axes[axis].from ? (way[axis] ?? 0) : 0);
  const moves = AXES.flatMap((axis) => {
    const { from } = axes[axis];
    if (!from || wayM(axis) === 0) return [];
    const { name, speakerDistance } = setup.surfaces[from.index]!;
    const speakerDistanceM = speakerDistance.m - from.end * wayM(axis);
    return [{ surface: name, speakerDistanceM }];
  });
  for (const { axis, end, index } of placed) {
    refuseNearness(setup, setup.surfaces[index]!, -end * wayM(axis), microphone);
  }
  refuseOutside(setup, moves);
  const moved = withoutOptionNames(() => movePlacement(setup, moves, microphone));
  const surfaces = placed.map(({ axis, end, index }): Surface => {
    const surface = setup.surfaces[index]!;
    const byM = -end * wayM(axis);
    const along = microphone === 'along' ? byM : 0;
    return {
      ...surface,
      speakerDistance: shifted(surface.speakerDistance, byM),
      microphoneDistance: shifted(surface.microphoneDistance, along),
    };
  });
  return { ...moved, surfaces };
}

/** As far along each axis in turn as can be, so that the speaker slides along a wall; and why no farther. */
export function moveAsFar(
  setup: Setup,
  way: Way,
  microphone: MicrophonePlace,
): { readonly setup: Setup; readonly refusal?: string } {
  let reached: Way = {};
  let refusal: string | undefined;
  for (const axis of AXES) {
    const whole = way[axis] ?? 0;
    const at = (share: number): Way => ({ ...reached, [axis]: share * whole });
    const why = refusalOf(setup, at(1), microphone);
    if (why !== undefined) refusal ??= why;
    reached = at(why === undefined ? 1 : greatestShare((share) => refusalOf(setup, at(share), microphone)));
  }
  return { setup: moveSpeaker(setup, reached, microphone), ...(refusal !== undefined && { refusal }) };
}

function refusalOf(setup: Setup, way: Way, microphone: MicrophonePlace): string | undefined {
  try {
    moveSpeaker(setup, way, microphone);
    return undefined;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return error.message;
  }
}

/** The greatest share, from 0, up to which nothing is refused; to 1/16384. */
function greatestShare(refused: (share: number) => string | undefined): number {
  let low = 0;
  let high = 1;
  for (let step = 0; step < 14; step++) {
    const middle = (low + high) / 2;
    if (refused(middle) === undefined) low = middle;
    else high = middle;
  }
  return low;
}

function refuseNearness(setup: Setup, surface: Surface, byM: number, microphone: MicrophonePlace): void {
  const said = (m: number) => formatLength(m, setup.lengthUnit);
  const lengths = [
    ['speaker', surface.speakerDistance.m],
    ...(microphone === 'along' ? ([['microphone', surface.microphoneDistance.m]] as const) : []),
  ] as const;
  for (const [what, m] of lengths) {
    // Who stands nearer already may stay there, and go away.
    if (byM < 0 && m + byM < CLEARANCE_M - 1e-9) {
      throw new InputError(
        m + byM < 0
          ? `The ${what} would be ${said(-m - byM)} behind “${surface.name}”.`
          : `The ${what} would touch “${surface.name}”: it stays ${said(CLEARANCE_M)} away.`,
      );
    }
  }
}

/** No distance to a wall is greater than the room. */
function refuseOutside(
  { room, lengthUnit }: Setup,
  moves: readonly { readonly surface: string; readonly speakerDistanceM: number }[],
): void {
  if (!room) return;
  const longestM = Math.max(room.lengthM, room.widthM, room.heightM);
  for (const { surface, speakerDistanceM } of moves) {
    if (speakerDistanceM <= longestM) continue;
    throw new InputError(
      `${formatLength(speakerDistanceM, lengthUnit)} from “${surface}” would be outside the room, which measures ${formatLength(longestM, lengthUnit)} at most.`,
    );
  }
}

/** The command line's option has no place in the words of the app. */
function withoutOptionNames<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(
      error.message.replace(
        /\(or let it come along: --microphone along\)/,
        '(or let the microphone come along)',
      ),
    );
  }
}

function shifted(length: MeasuredLength, byM: number): MeasuredLength {
  return { ...length, m: Math.round((length.m + byM) * 1e6) / 1e6 };
}
