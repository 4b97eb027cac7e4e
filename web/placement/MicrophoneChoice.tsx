import { useId } from 'preact/hooks';
import type { MicrophonePlace } from '../../src/whatIf/movePlacement.js';

const CHOICES = [
  ['stays', 'stays where it is'],
  ['along', 'moves along'],
] as const;

interface MicrophoneChoiceProps {
  readonly value: MicrophonePlace;
  readonly onChange: (value: MicrophonePlace) => void;
}

/** What the microphone does while the speaker is moved. */
export function MicrophoneChoice({ value, onChange }: MicrophoneChoiceProps) {
  const name = useId();
  return (
    <fieldset class="placement-choice">
      <legend>When the speaker moves, the microphone</legend>
      {CHOICES.map(([place, words]) => (
        <label>
          <input
            type="radio"
            name={name}
            value={place}
            checked={place === value}
            onChange={() => onChange(place)}
          />
          {words}
        </label>
      ))}
    </fieldset>
  );
}
