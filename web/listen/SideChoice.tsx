import { useId } from 'preact/hooks';
import type { ListeningSide } from './listeningGraph.js';

const SIDES = [
  ['before', 'Without the filters'],
  ['after', 'With the filters'],
] as const;

interface SideChoiceProps {
  readonly value: ListeningSide;
  readonly onChange: (side: ListeningSide) => void;
}

/** Which side is heard; arrow keys switch. */
export function SideChoice({ value, onChange }: SideChoiceProps) {
  const name = useId();
  return (
    <fieldset class="listen-sides">
      <legend>What you hear</legend>
      {SIDES.map(([side, words]) => (
        <label class={side}>
          <input
            type="radio"
            name={name}
            value={side}
            checked={side === value}
            onChange={() => onChange(side)}
          />
          <span>{words}</span>
        </label>
      ))}
    </fieldset>
  );
}
