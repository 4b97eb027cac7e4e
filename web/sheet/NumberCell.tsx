import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { InputError } from '../../src/inputError.js';
import { parseFrequencyHz } from '../../src/units/parseFrequencyHz.js';
import { parseGainDb } from '../../src/units/parseGainDb.js';
import { readNumber } from '../../src/units/readNumber.js';
import { withUnitEngine } from '../../src/units/withUnitEngine.js';
import { Entry } from './Entry.js';

function parse(kind: 'frequency' | 'gain' | 'ratio', text: string): number {
  if (kind === 'frequency') return parseFrequencyHz(text, 'here');
  if (kind === 'gain') return parseGainDb(text, 'here');
  const value = readNumber(text.trim());
  if (value === undefined || !(value > 0))
    throw new InputError(`found “${text}”, expected a number such as 0.7`);
  return value;
}

/** A number in a table, typed with or without its unit. */
export function NumberCell(props: {
  readonly label: string;
  readonly value: number;
  readonly show: (value: number) => string;
  readonly kind: 'frequency' | 'gain' | 'ratio';
  readonly take: (value: number) => void;
  readonly onKeyDown?: (event: KeyboardEvent) => void;
  readonly onFocus?: () => void;
}) {
  const problem = useSignal<string | undefined>(undefined);
  const { label, value, show, kind, take } = props;
  useEffect(() => {
    problem.value = undefined;
  }, [value]);
  return (
    <>
      <Entry
        class="cell"
        aria-label={label}
        value={show(value)}
        aria-invalid={problem.value !== undefined}
        {...(props.onFocus && { onFocus: props.onFocus })}
        {...(props.onKeyDown && { onKeyDown: props.onKeyDown })}
        commit={async (typed) => {
          try {
            const read = await withUnitEngine(() => parse(kind, typed));
            problem.value = undefined;
            take(read);
            return true;
          } catch (error) {
            if (!(error instanceof InputError)) throw error;
            problem.value = error.message.replace(/^here: /, '');
            return false;
          }
        }}
      />
      {problem.value && (
        <span class="hint bad" role="alert">
          {problem.value}
        </span>
      )}
    </>
  );
}
