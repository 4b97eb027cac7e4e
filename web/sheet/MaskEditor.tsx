import { evaluateMask, plainMask, toleranceMask } from '../../src/curve/toleranceMask.js';
import { formatSpan } from '../../src/export/words/formatSpan.js';
import { typeset } from '../../src/export/words/typeset.js';
import { InputError } from '../../src/inputError.js';
import type { Design } from '../../src/schema/design.js';
import { formatFrequency } from '../../src/units/formatFrequency.js';
import { project } from '../state/present.js';
import { change } from '../state/session.js';
import { shown } from '../state/shown.js';
import { MAX_MASK, type MaskPoint } from '../store/project.js';
import { decimals } from './decimals.js';
import { keepPlace } from './keepPlace.js';
import { NumberCell } from './NumberCell.js';

const plain: readonly MaskPoint[] = Array.from(plainMask.frequencyHz, (frequencyHz, i) => ({
  frequencyHz,
  lowerDb: plainMask.lowerDb[i]!,
  upperDb: plainMask.upperDb[i]!,
}));

function setMask(mask: readonly MaskPoint[] | undefined): void {
  change(mask ? 'change the mask' : 'take the mask away', ({ mask: _, ...value }) => ({
    ...value,
    ...(mask && { mask }),
  }));
}

/** Where the expected result leaves the mask, in words. */
export function maskWords(design: Design, points: readonly MaskPoint[]): string {
  try {
    const mask = toleranceMask(
      'yours',
      points.map(({ frequencyHz, lowerDb, upperDb }) => [frequencyHz, lowerDb, upperDb] as const),
    );
    const { frequencyHz, smoothedDb, eqDb, targetDb } = design.curves;
    const inRange = frequencyHz.flatMap((hz, i) =>
      hz >= design.range.fromHz && hz <= design.range.toHz ? [i] : [],
    );
    const { within, excesses } = evaluateMask(
      mask,
      Float64Array.from(inRange, (i) => frequencyHz[i]!),
      Float64Array.from(inRange, (i) => smoothedDb[i]! + eqDb[i]! - targetDb[i]!),
    );
    if (within) return 'The expected result keeps within the mask all along the range.';
    const list = excesses.map(
      ({ fromHz, toHz, side, worstDb }) =>
        `${worstDb.toFixed(1)} dB ${side} it from ${formatSpan({ fromHz, toHz })}`,
    );
    return `The expected result leaves the mask: ${list.slice(0, 4).join('; ')}${list.length > 4 ? `; and ${list.length - 4} more` : ''}.`;
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
}

/** A mask with one more point, in the middle of the widest gap between two. */
export function withOneMore(points: readonly MaskPoint[]): readonly MaskPoint[] {
  const sorted = [...points].sort((a, b) => a.frequencyHz - b.frequencyHz);
  let at = 1;
  const gap = (i: number) => sorted[i]!.frequencyHz / sorted[i - 1]!.frequencyHz;
  for (let i = 2; i < sorted.length; i++) if (gap(i) > gap(at)) at = i;
  const [a, b] = [sorted[at - 1]!, sorted[at]!];
  const middle = (x: number, y: number) => Math.round(5 * (x + y)) / 10;
  const fresh = {
    frequencyHz: Number(Math.sqrt(a.frequencyHz * b.frequencyHz).toPrecision(3)),
    lowerDb: middle(a.lowerDb, b.lowerDb),
    upperDb: middle(a.upperDb, b.upperDb),
  };
  return [...sorted.slice(0, at), fresh, ...sorted.slice(at)];
}

/** Limits around the target that the result is held against. */
export function MaskEditor() {
  const points = project.value.mask;
  const design = shown.value;
  if (!points) {
    return (
      <button type="button" onClick={() => setMask(plain)}>
        Hold it against a tolerance mask
      </button>
    );
  }
  const edit = (at: number, next: Partial<MaskPoint>) =>
    setMask(points.map((point, i) => (i === at ? { ...point, ...next } : point)));
  return (
    <>
      {design && <p role="status">{typeset(maskWords(design, points))}</p>}
      <details>
        <summary>The mask</summary>
        <table class="numbers">
          <caption>
            Limits of the deviation from the target. This one is our own, no standard's; type yours over it.
          </caption>
          <thead>
            <tr>
              <th scope="col" class="typed">
                Frequency
              </th>
              <th scope="col" class="typed">
                Lower (dB)
              </th>
              <th scope="col" class="typed">
                Upper (dB)
              </th>
              <th scope="col">
                <span class="unseen">Remove</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {points.map(({ frequencyHz, lowerDb, upperDb }, i) => (
              <tr key={i}>
                <td>
                  <NumberCell
                    label={`Frequency of mask point ${i + 1}`}
                    value={frequencyHz}
                    show={formatFrequency}
                    kind="frequency"
                    take={(v) => edit(i, { frequencyHz: v })}
                  />
                </td>
                <td>
                  <NumberCell
                    label={`Lower limit of mask point ${i + 1}`}
                    value={lowerDb}
                    show={(v) => decimals(v, 1, 2)}
                    kind="gain"
                    take={(v) => edit(i, { lowerDb: v })}
                  />
                </td>
                <td>
                  <NumberCell
                    label={`Upper limit of mask point ${i + 1}`}
                    value={upperDb}
                    show={(v) => decimals(v, 1, 2)}
                    kind="gain"
                    take={(v) => edit(i, { upperDb: v })}
                  />
                </td>
                <td>
                  <button
                    type="button"
                    class="small"
                    disabled={points.length <= 2}
                    aria-label={`Remove mask point ${i + 1}`}
                    data-removes
                    onClick={({ currentTarget }) =>
                      void keepPlace(currentTarget, () => setMask(points.filter((_, k) => k !== i)))
                    }
                  >
                    Remove
                  </button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
        <div class="row">
          <button
            type="button"
            disabled={points.length >= MAX_MASK}
            onClick={() => setMask(withOneMore(points))}
          >
            Add a point
          </button>
          <button type="button" onClick={() => setMask(undefined)}>
            No mask
          </button>
        </div>
      </details>
    </>
  );
}
