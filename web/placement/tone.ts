/** How many tones there are for surfaces; numbers and dashes tell them apart as well. */
const TONES = 6;

/** The class that gives a surface its colour, and a dash of its own to what belongs to it. */
export function tone(index: number): string {
  return `tone-${(index % TONES) + 1}`;
}
