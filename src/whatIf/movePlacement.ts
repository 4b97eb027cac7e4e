import type { MeasuredLength, Setup, Surface } from '../acoustics/setup.js';
import { InputError } from '../inputError.js';
import { formatLength } from '../units/formatLength.js';
import { haveFacingNames, isLevel } from './facingNames.js';

/** Where the microphone (or the listener) is once the speaker has been moved. */
export type MicrophonePlace = 'along' | 'stays';

/** The speaker's new distance from one surface, straight toward or away from it. */
export interface Move {
  readonly surface: string;
  readonly speakerDistanceM: number;
}

/** Two walls face each other where their distances add up to a size of the room this well. */
const FACING = 0.04;
/** From this share of the straight distance on the microphone is in front of the speaker, seen from the surface. */
const IN_FRONT = 0.7;
/** Nearer to the speaker no microphone stands. */
const LEAST_DISTANCE_M = 0.1;

/**
 * The set-up with the speaker moved straight toward or away from surfaces that are at right angles to each other.
 *
 * With `along` the microphone makes the same move, and the straight distance stays. With `stays` it does not, and the
 * straight distance follows: of its square only the part along the moves changes. A wall that faces a moved one (the
 * distances of both add up to a size of the room, for speaker and microphone, or by their names, floor and ceiling, and to
 * the same for both) comes nearer by as much as the other recedes; all other surfaces are taken to be at right angles to the moves and keep their distances.
 *
 * @throws InputError for a surface that the set-up does not have, and for a place where speaker or microphone cannot be
 */
export function movePlacement(setup: Setup, moves: readonly Move[], microphone: MicrophonePlace): Setup {
  const { surfaces, lengthUnit } = setup;
  const said = (m: number) => formatLength(m, lengthUnit);
  const shiftM = new Map<string, number>();
  const give = (name: string, byM: number) => shiftM.set(name, (shiftM.get(name) ?? 0) + byM);
  let squaredM2 = setup.microphoneDistance.m ** 2;
  for (const { surface: name, speakerDistanceM } of moves) {
    const surface = surfaceNamed(setup, name);
    const byM = speakerDistanceM - surface.speakerDistance.m;
    give(name, byM);
    for (const other of surfaces) if (faces(setup, surface, other)) give(other.name, -byM);
    const aheadM = surface.microphoneDistance.m - surface.speakerDistance.m;
    const inFront = Math.abs(aheadM) > IN_FRONT * setup.microphoneDistance.m;
    if (microphone === 'stays' && inFront && (aheadM - byM) / aheadM <= 0) {
      throw new InputError(
        `${said(speakerDistanceM)} from "${name}": the speaker would stand beyond the microphone, which stays at ${said(surface.microphoneDistance.m)}; expected less (or let it come along: --microphone along)`,
      );
    }
    if (microphone === 'stays') squaredM2 += (aheadM - byM) ** 2 - aheadM ** 2;
  }
  const where = moves.map((m) => `${said(m.speakerDistanceM)} from "${m.surface}"`).join(' and ');
  // A set-up whose distances do not quite fit together may leave a little less than nothing.
  const directM = Math.sqrt(Math.max(0, squaredM2));
  if (directM < LEAST_DISTANCE_M) {
    throw new InputError(
      `${where}: the speaker would stand ${said(directM)} from a microphone that stays where it is; expected at least ${said(LEAST_DISTANCE_M)} (or let it come along: --microphone along)`,
    );
  }
  const moved = {
    ...setup,
    microphoneDistance: { ...setup.microphoneDistance, m: directM },
    surfaces: surfaces.map((surface) => {
      const byM = shiftM.get(surface.name) ?? 0;
      const moved = {
        ...surface,
        speakerDistance: shifted(surface.speakerDistance, byM),
        microphoneDistance:
          microphone === 'along' ? shifted(surface.microphoneDistance, byM) : surface.microphoneDistance,
      };
      for (const [what, { m }] of [
        ['speaker', moved.speakerDistance],
        ['microphone', moved.microphoneDistance],
      ] as const) {
        if (m < 0) throw new InputError(`${where}: the ${what} would be behind "${surface.name}"`);
      }
      return moved;
    }),
  };
  const { lengthM, widthM, heightM } = setup.room ?? {};
  const longestM = Math.max(...[lengthM, widthM, heightM].map((m) => m ?? Number.POSITIVE_INFINITY));
  for (const { name, speakerDistance, microphoneDistance } of moved.surfaces) {
    if ((shiftM.get(name) ?? 0) <= 0) continue;
    const isHeight = heightM !== undefined && isLevel(name);
    const mostM = isHeight ? heightM : longestM;
    const what =
      speakerDistance.m > mostM
        ? 'speaker'
        : microphone === 'along' && microphoneDistance.m > mostM
          ? 'microphone'
          : undefined;
    if (what) {
      const room = isHeight ? `which is ${said(mostM)} high` : `whose longest side has ${said(mostM)}`;
      throw new InputError(`${where}: the ${what} would be outside of the room, ${room}; expected less`);
    }
  }
  return moved;
}

/** @throws InputError with the names that the set-up has */
export function surfaceNamed({ surfaces }: Setup, name: string): Surface {
  const surface = surfaces.find((each) => each.name === name);
  if (surface) return surface;
  const known = surfaces.map((each) => `"${each.name}"`).join(', ');
  throw new InputError(
    `found the surface "${name}", expected one of the set-up's: ${known === '' ? 'it has none' : known}`,
  );
}

/** Whether the room's size, or the names of both, show that `other` is the wall across from `surface`. */
export function faces({ room }: Setup, surface: Surface, other: Surface): boolean {
  if (surface.name === other.name) return false;
  const { speakerDistance, microphoneDistance } = surface;
  const near = (sizeM: number, a: MeasuredLength, b: MeasuredLength) =>
    Math.abs(a.m + b.m - sizeM) < FACING * sizeM + a.toleranceM + b.toleranceM;
  const apartM = speakerDistance.m + other.speakerDistance.m;
  if (haveFacingNames(surface.name, other.name))
    return near(apartM, microphoneDistance, other.microphoneDistance);
  return [room?.lengthM, room?.widthM, room?.heightM].some(
    (sizeM) =>
      sizeM !== undefined &&
      near(sizeM, speakerDistance, other.speakerDistance) &&
      near(sizeM, microphoneDistance, other.microphoneDistance),
  );
}

function shifted(length: MeasuredLength, byM: number): MeasuredLength {
  return { ...length, m: Math.round((length.m + byM) * 1e6) / 1e6 };
}
