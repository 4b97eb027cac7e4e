import type { Design } from '../../schema/design.js';

/** 20 Hz to 20 kHz, wider where the fitted range is. */
export function frequencyDomain(design: Pick<Design, 'range'>): [number, number] {
  return [Math.min(20, design.range.fromHz), Math.max(20000, design.range.toHz)];
}
