import { shippedDevices } from '../../src/device/profile/shippedDevices.js';
import { cleanText } from '../../src/export/words/cleanText.js';
import { deviceQWords } from '../../src/export/words/deviceWords.js';
import { typeset } from '../../src/export/words/typeset.js';
import { conventionFor } from '../../src/filter/qConventions.js';
import { project } from '../state/present.js';
import { change } from '../state/session.js';
import { device, shown } from '../state/shown.js';
import { deviceText } from './deviceText.js';

const WORDS: Readonly<Record<string, string>> = {
  'five-band-48k': 'Five bands and two shelves, coarse steps',
  'ten-band-bandwidth': 'Ten bands, widths in octaves',
  'third-octave-graphic': 'Graphic, thirds of an octave',
  'fixed-point-5.23-biquads': '16 biquads in fixed point (5.23)',
};

/** The equalizer that the filters are for: none in particular, one that comes along, or one's own file. */
export function DeviceChoice() {
  const file = project.value.files.find(({ role }) => role === 'device');
  const own = file && !shippedDevices.some(({ name }) => `${name}.json` === file.name);
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
  const settings = design?.deviceSettings;
  const convention = device.value?.qConvention;
  return (
    <>
      <div class="field wide">
        <label for="device">They are for</label>
        <select
          id="device"
          value={own ? 'own' : (file?.name.replace(/\.json$/, '') ?? '')}
          onChange={({ currentTarget }) => choose(currentTarget.value)}
        >
          <option value="">any equalizer, any numbers</option>
          {shippedDevices.map(({ name }) => (
            <option key={name} value={name}>
              {WORDS[name] ?? name}
            </option>
          ))}
          {own && <option value="own">{cleanText(file.name)}</option>}
        </select>
        <span class="hint screen-only">
          for one of your own drop its file (its form: nullwise schema device)
        </span>
      </div>
      {design && settings && convention !== undefined && convention !== 'cookbook' && (
        <details>
          <summary>What to enter</summary>
          <table class="numbers">
            <caption>{typeset(deviceQWords(design) ?? '')}</caption>
            <thead>
              <tr>
                <th scope="col">Band</th>
                <th scope="col">Frequency (Hz)</th>
                <th scope="col">Gain (dB)</th>
                <th scope="col">To enter</th>
              </tr>
            </thead>
            <tbody>
              {settings.map(({ band, frequencyHz, gainDb, q, type }) => (
                <tr key={`${band} ${type}`}>
                  <td>{band}</td>
                  <td>{Number(frequencyHz.toPrecision(5))}</td>
                  <td>{typeset(String(gainDb))}</td>
                  <td>
                    {Number(q.toPrecision(4))} {conventionFor(convention, type).unit}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </details>
      )}
    </>
  );
}
