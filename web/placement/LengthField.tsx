import type { TargetedEvent, TargetedKeyboardEvent } from 'preact';
import { useId, useState } from 'preact/hooks';
import { formatLength } from '../../src/units/formatLength.js';
import { readLength } from './readLength.js';

const STEP_M = { cm: 0.01, in: 0.0127 };
const FAR_STEPS = 10;

interface LengthFieldProps {
  readonly label: string;
  readonly m: number;
  readonly unit: 'cm' | 'in';
  /** Gives why the length cannot be, or not quite. */
  readonly onCommit: (m: number) => string | undefined;
}

/** A length as a number with its unit beside it; other units may be typed with it. Arrow up and down are one step. */
export function LengthField({ label, m, unit, onCommit }: LengthFieldProps) {
  const id = useId();
  const [typed, setTyped] = useState<string | undefined>(undefined);
  const [problem, setProblem] = useState<string | undefined>(undefined);
  const written = formatLength(m, unit).replace(/ .*$/, '');

  const commit = async (event: TargetedEvent<HTMLInputElement>) => {
    const text = event.currentTarget.value;
    if (text.trim() === written) return reset();
    const read = await readLength(text, unit, label);
    if ('problem' in read) {
      setTyped(text);
      setProblem(read.problem);
      return;
    }
    setTyped(undefined);
    setProblem(onCommit(read.length.m));
  };
  const reset = () => {
    setTyped(undefined);
    setProblem(undefined);
  };
  const step = (event: TargetedKeyboardEvent<HTMLInputElement>) => {
    if (event.key === 'Escape') return reset();
    const way = event.key === 'ArrowUp' ? 1 : event.key === 'ArrowDown' ? -1 : 0;
    if (way === 0 || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    setTyped(undefined);
    setProblem(onCommit(Math.max(0, m + way * STEP_M[unit] * (event.shiftKey ? FAR_STEPS : 1))));
  };
  return (
    <div class="placement-field">
      <label for={id}>{label}</label>
      <span>
        <input
          id={id}
          type="text"
          inputMode="decimal"
          autocomplete="off"
          value={typed ?? written}
          data-typing={typed !== undefined && typed !== written}
          aria-invalid={typed !== undefined && problem !== undefined}
          aria-describedby={problem === undefined ? undefined : `${id}-problem`}
          onInput={({ currentTarget }) => setTyped(currentTarget.value)}
          onChange={commit}
          onKeyDown={step}
        />
        <span class="placement-unit">{unit}</span>
      </span>
      {problem !== undefined && (
        <p id={`${id}-problem`} class="placement-problem" role="alert">
          {problem}
        </p>
      )}
    </div>
  );
}
