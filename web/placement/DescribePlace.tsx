import type { TargetedSubmitEvent } from 'preact';
import { useState } from 'preact/hooks';
import type { Setup } from '../../src/acoustics/setup.js';
import { describedSetup } from './describedSetup.js';
import { ProblemList } from './ProblemList.js';

/** What most small speakers stand near; each can be called otherwise. */
const USUAL = ['wall behind', 'desk', 'side wall', ''];

/** The distances of a set-up that nobody has written down yet. */
export function DescribePlace({ onChange }: { readonly onChange: (setup: Setup) => void }) {
  const [problems, setProblems] = useState<readonly string[]>([]);
  const submit = async (event: TargetedSubmitEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    const text = (field: string) => String(form.get(field) ?? '');
    const described = await describedSetup({
      straight: text('straight'),
      surfaces: USUAL.map((_, i) => ({
        name: text(`name ${i}`),
        speaker: text(`speaker ${i}`),
        microphone: text(`microphone ${i}`),
      })),
    });
    if ('problems' in described) return setProblems(described.problems);
    setProblems([]);
    onChange(described.setup);
  };
  return (
    <form class="placement-correct described" onSubmit={submit}>
      <p class="soft">
        In cm, or with another unit, and with a tolerance where you know it, as in “29 ± 2”. To a surface
        measure the shortest way, from the middle of the speaker’s front and from the microphone. Leave empty
        what is not near.
      </p>
      <label>
        Speaker to microphone, straight <input name="straight" type="text" autocomplete="off" />
      </label>
      <table>
        <thead>
          <tr>
            <th scope="col">Surface</th>
            <th scope="col">Speaker from it</th>
            <th scope="col">Microphone from it</th>
          </tr>
        </thead>
        <tbody>
          {USUAL.map((usual, i) => (
            <tr key={usual}>
              {[
                [`name ${i}`, `Name of surface ${i + 1}`, usual],
                [`speaker ${i}`, `Speaker from surface ${i + 1}`, ''],
                [`microphone ${i}`, `Microphone from surface ${i + 1}`, ''],
              ].map(([name, label, value]) => (
                <td key={name}>
                  <input name={name} aria-label={label} type="text" autocomplete="off" defaultValue={value} />
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      <ProblemList problems={problems} />
      <button type="submit">Take these distances</button>
    </form>
  );
}
