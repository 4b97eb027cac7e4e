import type { Warning } from '../warning.js';

/** Warnings without those that were said before: one calibration says the same of every measurement. */
export function onceEach(warnings: readonly Warning[]): Warning[] {
  return warnings.filter(
    ({ code, message }, i) => warnings.findIndex((w) => w.code === code && w.message === message) === i,
  );
}
