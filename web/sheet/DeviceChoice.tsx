import { shippedDevices } from '../../src/device/profile/shippedDevices.js';
import { cleanText } from '../../src/export/words/cleanText.js';
import { deviceQWords } from '../../src/export/words/deviceWords.js';
import { soundingLetters } from '../state/lettered.js';
import { project } from '../state/present.js';
import { change } from '../state/session.js';
import { device, shown } from '../state/shown.js';
import { deviceText } from './deviceText.js';
import { ExampleFile } from './ExampleFile.js';
import { FilterList } from './FilterList.js';

const WORDS: Readonly<Record<string, string>> = {
  'five-band-48k': 'Five bands and two shelves, coarse steps',
  'ten-band-bandwidth': 'Ten bands, widths in octaves',
  'third-octave-graphic': 'Graphic, thirds of an octave',
  'fixed-point-5.23-biquads': '16 biquads in fixed point (5.23)',
};

const EXAMPLE_DEVICE = deviceText({ ...shippedDevices[0]!, name: 'my equalizer' });

/** The equalizer that the filters are for: none in particular, one that comes along, or one's own file. */
export function DeviceChoice() {
  const file = project.value.files.find(({ role }) => role === 'device');
  const shipped = file && shippedDevices.find((each) => deviceText(each) === file.content);
  const own = file && !shipped;
  const choose = (name: string) =>
    change(
      'choose the equalizer',
      (value) => {
        const files = value.files.filter(({ role }) => role !== 'device');
        const chosen = shippedDevices.find((each) => each.name === name);
        if (!chosen) return { ...value, files };
        const content = deviceText(chosen);
        return {
          ...value,
          files: [...files, { name: `${name}.json`, role: 'device', encoding: 'text', content }],
        };
      },
      { refit: true },
    );
  const design = shown.value;
  return (
    <>
      <div class="field wide">
        <label for="device">They are for</label>
        <select
          id="device"
          value={own ? 'own' : (shipped?.name ?? '')}
          onChange={({ currentTarget }) => choose(currentTarget.value)}
        >
          <option value="">any equalizer, any numbers</option>
          {shippedDevices.map(({ name }) => (
            <option key={name} value={name}>
              {WORDS[name] ?? name}
            </option>
          ))}
          {own && <option value="own">{cleanText(device.value?.name ?? file.name)}</option>}
        </select>
      </div>
      <ExampleFile
        summary="One of your own: how its file looks"
        name="equalizer.json"
        text={EXAMPLE_DEVICE}
        words="Put in what your equalizer has, and drop the file here. A range has a step, so many values per octave, a list of values, or none of them: then any number goes."
      />
      {design?.deviceSettings && (
        <details class="on-paper">
          <summary>What to enter</summary>
          <FilterList
            design={design}
            caption={deviceQWords(design) ?? 'In which band of the equalizer each filter goes.'}
            letters={soundingLetters.value}
          />
        </details>
      )}
    </>
  );
}
