import { conventionFor } from '../filter/qConventions.js';
import type { Checkable } from '../schema/checkable.js';

export const typeWords = { peaking: 'peaking', lowShelf: 'low shelf', highShelf: 'high shelf' } as const;

/** What to type for a filter: a device's own setting where the design is for one, else the numbers of filters.txt. */
export function enterWords({ filters, device, deviceSettings }: Checkable, index: number): string {
  const setting = deviceSettings?.[index];
  if (device && setting) {
    const { type, frequencyHz, gainDb, q } = setting;
    const { unit, name, called } = conventionFor(device.qConvention, type);
    const width =
      unit === ''
        ? `${name === 'shelfSlope' ? 'slope' : 'Q'} ${tidy(q, 4)}`
        : `bandwidth ${tidy(q, 4)} ${unit}`;
    const meaning = name === 'cookbook' || unit !== '' ? '' : ` (${called})`;
    return `Enter it again in band ${setting.band} of the equalizer: ${typeWords[type]}, ${tidy(frequencyHz, 3)} Hz, ${signed(gainDb, 3)}, ${width}${meaning}.`;
  }
  const { type, frequencyHz, gainDb, q } = filters[index]!;
  return `Enter filter ${index + 1} again: ${typeWords[type]}, ${tidy(frequencyHz, 3)} Hz, ${signed(gainDb, 3)}, Q ${tidy(q, 4)}.`;
}

/** Which band of the device a filter stands in, to be put behind its number; nothing where the design is for none. */
export function bandWords({ device, deviceSettings }: Checkable, index: number): string {
  const setting = deviceSettings?.[index];
  return device && setting ? `, band ${setting.band} of the equalizer` : '';
}

const tidy = (value: number, decimals: number): number => Number(value.toFixed(decimals));

/** With its sign, also before a boost. */
export function signed(db: number, digits = 1): string {
  return `${db > 0 ? '+' : ''}${tidy(db, digits)} dB`;
}
