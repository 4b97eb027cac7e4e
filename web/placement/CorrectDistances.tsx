import type { TargetedSubmitEvent } from 'preact';
import { useState } from 'preact/hooks';
import type { MeasuredLength, Setup } from '../../src/acoustics/setup.js';
import { cleanText } from '../../src/export/words/cleanText.js';
import { formatLength } from '../../src/units/formatLength.js';
import { ProblemList } from './ProblemList.js';
import { readLength } from './readLength.js';

interface CorrectDistancesProps {
  /** As it was measured. */
  readonly setup: Setup;
  /** The speaker is drawn elsewhere at the moment. */
  readonly away: boolean;
  readonly onChange: (setup: Setup) => void;
}

/** Every distance of the set-up with its tolerance, to be corrected together; nothing else follows from it. */
export function CorrectDistances({ setup, away, onChange }: CorrectDistancesProps) {
  const [problems, setProblems] = useState<readonly string[]>([]);
  const written = (length: MeasuredLength) => lengthText(length, setup.lengthUnit);

  const submit = async (event: TargetedSubmitEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    const corrected = await correctedSetup(setup, (field) => String(form.get(field) ?? ''));
    if ('problems' in corrected) return setProblems(corrected.problems);
    setProblems([]);
    onChange(corrected.setup);
  };
  return (
    <form class="placement-correct" onSubmit={submit}>
      <p>
        {`Lengths in ${setup.lengthUnit}, each with its tolerance if you know it. This corrects what was written down; it does not move the speaker.${
          away ? ' The speaker goes back to where it was measured.' : ''
        }`}
      </p>
      <table>
        <thead>
          <tr>
            <th scope="col">Distance from</th>
            <th scope="col">Speaker</th>
            <th scope="col">Microphone</th>
          </tr>
        </thead>
        <tbody>
          {setup.surfaces.map(({ name, speakerDistance, microphoneDistance }, i) => (
            <tr key={`${i} ${written(speakerDistance)} ${written(microphoneDistance)}`}>
              <th scope="row">{cleanText(name)}</th>
              <td>
                <input
                  name={`speaker ${i}`}
                  aria-label={`Speaker from ${cleanText(name)}`}
                  defaultValue={written(speakerDistance)}
                />
              </td>
              <td>
                <input
                  name={`microphone ${i}`}
                  aria-label={`Microphone from ${cleanText(name)}`}
                  defaultValue={written(microphoneDistance)}
                />
              </td>
            </tr>
          ))}
          <tr key={written(setup.microphoneDistance)}>
            <th scope="row">each other, straight</th>
            <td colSpan={2}>
              <input
                name="straight"
                aria-label="Straight from speaker to microphone"
                defaultValue={written(setup.microphoneDistance)}
              />
            </td>
          </tr>
        </tbody>
      </table>
      <ProblemList problems={problems} />
      <button type="submit">Correct the set-up</button>
    </form>
  );
}

type Corrected = { readonly setup: Setup } | { readonly problems: readonly string[] };

/** A field that was left as it stood keeps its exact length. */
export async function correctedSetup(setup: Setup, textOf: (field: string) => string): Promise<Corrected> {
  const problems: string[] = [];
  const { lengthUnit } = setup;
  const read = async (field: string, what: string, length: MeasuredLength, least: number) => {
    const text = textOf(field);
    if (text.trim() === lengthText(length, lengthUnit)) return length;
    const result = await readLength(text, lengthUnit, what);
    if ('problem' in result) problems.push(result.problem);
    else if (result.length.m < least) problems.push(`${what}: found "${text}", expected more than 0`);
    else return result.length;
    return length;
  };
  const surfaces = [];
  for (const [i, surface] of setup.surfaces.entries()) {
    surfaces.push({
      ...surface,
      speakerDistance: await read(`speaker ${i}`, `Speaker from ${surface.name}`, surface.speakerDistance, 0),
      microphoneDistance: await read(
        `microphone ${i}`,
        `Microphone from ${surface.name}`,
        surface.microphoneDistance,
        0,
      ),
    });
  }
  const straight = 'Straight from speaker to microphone';
  const microphoneDistance = await read('straight', straight, setup.microphoneDistance, 1e-3);
  return problems.length > 0 ? { problems } : { setup: { ...setup, microphoneDistance, surfaces } };
}

function lengthText({ m, toleranceM }: MeasuredLength, unit: 'cm' | 'in'): string {
  const bare = (value: number) => formatLength(value, unit).replace(/ .*$/, '');
  return toleranceM > 0 ? `${bare(m)} ± ${bare(toleranceM)}` : bare(m);
}
