import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { deviceSampleRateHz } from '../../src/device/profile/deviceSampleRateHz.js';
import { designDefaults } from '../../src/schema/designOptions.js';
import { deviceEnd, tighter } from '../state/deviceEnds.js';
import { type OptionField, typeOption } from '../state/optionEdits.js';
import { project } from '../state/present.js';
import { device } from '../state/shown.js';
import { optionWords } from '../work/optionWords.js';
import { Entry } from './Entry.js';

const UNITS: Partial<Record<OptionField, string>> = {
  bassShelf: 'dB',
  tilt: 'dB',
  level: 'dB',
  maxBoost: 'dB',
  maxCut: 'dB',
  maxLevelLoss: 'dB',
  repeatability: 'dB',
  bassShelfFrequency: 'Hz',
  from: 'Hz',
  to: 'Hz',
  sampleRate: 'Hz',
};

function written(field: OptionField, value: number | undefined): string {
  if (value === undefined) return '';
  if (field === 'smoothing') return value === 0 ? '0' : `1/${Number((1 / value).toPrecision(4))}`;
  const unit = UNITS[field];
  return `${Number(value.toPrecision(6))}${unit ? ` ${unit}` : ''}`;
}

/** What holds where nothing is typed: the usual number, or what the equalizer has where that is tighter. */
function usualOf(field: OptionField, usual: string): string {
  if (!device.value) return usual;
  if (field === 'sampleRate') return `${deviceSampleRateHz(device.value) / 1000} kHz`;
  const value = Number.parseFloat(usual);
  const held = tighter(value, deviceEnd(field, device.value));
  return held === value ? usual : written(field, Number(held.toPrecision(3)));
}

/** One number of the options: typed with or without its unit, taken when the field is left or Enter is pressed. */
export function OptionInput(props: {
  readonly field: OptionField;
  readonly hint: string;
  /** What holds where nothing is typed, where it is no fixed number. */
  readonly otherwise?: string;
}) {
  const { field } = props;
  const problem = useSignal<string | undefined>(undefined);
  const value = project.value.options[field];
  useEffect(() => {
    problem.value = undefined;
  }, [value]);
  const id = `option-${field}`;
  const end = device.value && deviceEnd(field, device.value);
  const usual = (designDefaults as Readonly<Partial<Record<OptionField, string>>>)[field];
  const fallback = props.otherwise ?? (usual === undefined ? 'none' : usualOf(field, usual));
  const isBeyond = value !== undefined && end !== undefined && tighter(value, end) !== value;
  const hint = isBeyond
    ? `the equalizer has ${end.isLeast ? 'no less' : 'no more'} than ${written(field, end.value)}`
    : props.hint;
  return (
    <div class={`field ${problem.value ? 'wrong' : ''}`}>
      <label for={id}>{optionWords(field)}</label>
      <Entry
        id={id}
        value={written(field, value)}
        placeholder={fallback}
        aria-invalid={problem.value !== undefined}
        aria-describedby={`${id}-hint`}
        commit={async (typed) => {
          problem.value = await typeOption(field, typed);
          return problem.value === undefined;
        }}
      />
      <span class="hint" id={`${id}-hint`} role={problem.value ? 'alert' : undefined}>
        {problem.value ?? hint}
      </span>
    </div>
  );
}
