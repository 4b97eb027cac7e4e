import { log2 } from '../elementary/logarithm.js';

export interface MistypedFrequency {
  readonly frequencyHz: number;
  /** How the slip comes about: "a decimal point in the wrong place". */
  readonly words: string;
}

/**
 * Numbers that a hand makes of a frequency by one slip: a decimal point in the wrong place, neighbouring digits
 * swapped, a digit left out.
 *
 * @param frequencyHz as it was to be entered
 * @param below half the sample rate: what lies beyond no equalizer takes
 */
export function mistypedFrequencies(frequencyHz: number, below: number): MistypedFrequency[] {
  const slips: MistypedFrequency[] = [10, 100, 1000].flatMap((factor) =>
    [frequencyHz * factor, frequencyHz / factor].map((hz) => ({
      frequencyHz: hz,
      words: factor === 1000 ? 'Hz and kHz mistaken for one another' : 'a decimal point in the wrong place',
    })),
  );
  for (const text of writtenForms(frequencyHz)) {
    for (let i = 0; i < text.length; i++) {
      const next = text[i + 1];
      if (text[i] === '.') continue;
      if (next !== undefined && next !== '.' && next !== text[i]) {
        slips.push({
          frequencyHz: Number(text.slice(0, i) + next + text[i] + text.slice(i + 2)),
          words: 'two digits swapped',
        });
      }
      slips.push({ frequencyHz: Number(text.slice(0, i) + text.slice(i + 1)), words: 'a digit left out' });
    }
  }
  const seen = new Set<number>();
  return slips.filter(({ frequencyHz: hz }) => {
    const key = Number(hz.toPrecision(5));
    const isNew = !seen.has(key);
    seen.add(key);
    return isNew && hz >= LOWEST_HZ && hz < below && Math.abs(log2(hz / frequencyHz)) > LEAST_OCTAVES;
  });
}

const LOWEST_HZ = 5;
/** Nearer than that no measurement tells the two apart. */
const LEAST_OCTAVES = 0.02;

/** As it stands in the table, and rounded as people do who enter it. */
function writtenForms(frequencyHz: number): string[] {
  return [...new Set([5, 3].map((digits) => String(Number(frequencyHz.toPrecision(digits)))))];
}
