import type { Curve } from '../curve/curve.js';
import { shapeDigest } from '../curve/shapeDigest.js';
import type { Design } from '../schema/design.js';
import type { Warning } from '../warning.js';

/** A measurement as it came from its file, nothing taken off. */
export interface AsMeasured {
  readonly fileName: string;
  readonly asMeasured: Curve;
}

/** Warnings where what is given as measured with the filters on is one of the measurements that a design was averaged from. */
export function measuredBefore(positions: Design['positions'], measured: readonly AsMeasured[]): Warning[] {
  const known = positions?.each.filter(({ digest }) => digest !== undefined) ?? [];
  if (known.length === 0) return [];
  return measured.flatMap(({ fileName, asMeasured }) => {
    const digest = shapeDigest(asMeasured);
    const position = known.find((each) => each.digest === digest);
    if (!position) return [];
    const given =
      fileName === ''
        ? 'The measurement with the filters on'
        : `${fileName}, given as measured with the filters on,`;
    return [
      {
        code: 'same-measurement',
        message:
          `${given} holds the very same levels as ${position.name}, one of the ${positions!.each.length} measurements that the design was made from: ` +
          'nothing new was measured there, and what is said of the filters says nothing of them. Give what was measured with them on.',
      },
    ];
  });
}
