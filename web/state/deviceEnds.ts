import { bandCount } from '../../src/device/profile/bandSlots.js';
import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';
import type { OptionField } from './optionEdits.js';

/** How far the equalizer itself goes with what a limit is about: as far as the limit may, or less far. */
export interface DeviceEnd {
  readonly value: number;
  readonly isLeast?: true;
}

/** @returns undefined where the equalizer says nothing of it */
export function deviceEnd(field: OptionField, device: DeviceProfile): DeviceEnd | undefined {
  const { gainDb, q, qConvention } = device;
  switch (field) {
    case 'bands':
      return { value: bandCount(device) };
    case 'maxBoost':
      return { value: Math.max(0, gainDb.max) };
    case 'maxCut':
      return { value: Math.max(0, -gainDb.min) };
    // Of a scale of its own the ends are other Qs with every gain.
    case 'qMin':
      return qConvention === 'cookbook' ? { value: q.min, isLeast: true } : undefined;
    case 'qMax':
      return qConvention === 'cookbook' ? { value: q.max } : undefined;
    default:
      return undefined;
  }
}

/** What holds of a limit: what was asked for, or what the equalizer has where that is tighter. */
export function tighter(asked: number, end: DeviceEnd | undefined): number {
  if (!end) return asked;
  return end.isLeast ? Math.max(asked, end.value) : Math.min(asked, end.value);
}
