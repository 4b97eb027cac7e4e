import { formatLength } from '../units/formatLength.js';
import type { Warning } from '../warning.js';
import type { Setup } from './setup.js';

/** What a tape measure may be off by before distances are said to contradict each other. */
const TAPE_M = 0.02;

/** Distances of a set-up that cannot all be true. */
export function setupWarnings(setup: Setup): Warning[] {
  const { microphoneDistance: r, lengthUnit } = setup;
  const said = (m: number) => formatLength(m, lengthUnit);
  return setup.surfaces.flatMap(({ name, speakerDistance: hs, microphoneDistance: hm }) => {
    const apartM = Math.abs(hm.m - hs.m);
    const slackM = TAPE_M + r.toleranceM + hs.toleranceM + hm.toleranceM;
    if (apartM <= r.m + slackM) return [];
    return [
      {
        code: 'distances-disagree',
        message:
          `Speaker and microphone are ${said(r.m)} apart, yet their distances from "${name}" ` +
          `(${said(hs.m)} and ${said(hm.m)}) differ by ${said(apartM)}: at least one of the three was measured wrongly, or lacks its unit (a length without one is in metres).`,
      },
    ];
  });
}
