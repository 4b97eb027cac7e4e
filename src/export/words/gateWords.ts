import type { ResponseReport } from '../../schema/response.js';
import { formatMs } from './formatMs.js';

/** How an impulse response was cut to length, in words. */
export function gateWords({ gating, gate, cycles }: ResponseReport): string {
  const span = `${formatMs(gate.beforeS)} before to ${formatMs(gate.afterS)} after the direct sound`;
  switch (gating) {
    case 'auto':
      return `${span}, found`;
    case 'given':
      return `${span}, as asked`;
    case 'none':
      return 'none, all of the recording';
    case 'cycles':
      return `none, a window of ${cycles} periods at each frequency`;
  }
}
