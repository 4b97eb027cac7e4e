import { useSignal } from '@preact/signals';
import { cleanText } from '../../src/export/words/cleanText.js';
import { readAnotherWay } from '../intake/changeFiles.js';
import type { ProjectFile } from '../store/project.js';
import { Entry } from './Entry.js';
import { said } from './said.js';

const FIRST_TIME = '5 ms';

/** How an impulse response is read: what counts of it, and which channel. */
export function ReadAs({ file }: { readonly file: ProjectFile }) {
  const problem = useSignal<string | undefined>(undefined);
  const { gate, channel } = file;
  const kind = gate === undefined ? 'all' : gate === 'auto' ? 'auto' : 'time';
  const name = cleanText(file.name);
  const take = async (changed: Pick<ProjectFile, 'gate' | 'channel'>) => {
    problem.value = await readAnotherWay(file, changed);
    return problem.value === undefined;
  };
  const rest = channel === undefined ? {} : { channel };
  return (
    <span class="read-as">
      <label>
        <span>Counts</span>
        <select
          aria-label={`What counts of ${name}`}
          value={kind}
          onChange={({ currentTarget: { value } }) =>
            void take({
              ...rest,
              ...(value !== 'all' && { gate: value === 'auto' ? value : FIRST_TIME }),
            })
          }
        >
          <option value="all">all of it, room and all</option>
          <option value="auto">what comes before the first strong reflection</option>
          <option value="time">a time after the direct sound</option>
        </select>
      </label>
      {kind === 'time' && gate !== undefined && (
        <Entry
          aria-label={`Time of ${name} that counts`}
          value={gate}
          commit={(typed) => take({ ...rest, gate: typed.trim() })}
        />
      )}
      <span>
        Channel{' '}
        <Entry
          aria-label={`Channel of ${name}`}
          value={String(channel ?? 1)}
          commit={(typed) => {
            const number = Number(typed);
            if (!/^\s*\d{1,5}\s*$/.test(typed) || number < 1) {
              problem.value = `found “${typed}”, expected the number of a channel, counted from 1`;
              return false;
            }
            return take({ ...(gate !== undefined && { gate }), ...(number !== 1 && { channel: number }) });
          }}
        />
      </span>
      {problem.value && (
        <span class="warned" role="alert">
          {said(problem.value)}
        </span>
      )}
    </span>
  );
}
