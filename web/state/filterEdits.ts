import { bandCount } from '../../src/device/profile/bandSlots.js';
import { typeset } from '../../src/export/words/typeset.js';
import type { Filter } from '../../src/filter/filter.js';
import type { Project, ProjectFilter } from '../store/project.js';
import { outcome } from './found.js';
import { project } from './present.js';
import { change } from './session.js';
import { bandsAllowed, device, filters as shownFilters } from './shown.js';
import { notice } from './told.js';

const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ';

/** What a filter is called on the sheet: A, B, … Z, AA, … */
export function letterOf(index: number): string {
  const first = Math.floor(index / LETTERS.length);
  return (first > 0 ? LETTERS[first - 1]! : '') + LETTERS[index % LETTERS.length]!;
}

function withList(
  value: Project,
  edit: (list: readonly ProjectFilter[]) => readonly ProjectFilter[],
): Project {
  return { ...value, filters: edit(value.filters ?? shownFilters.peek()) };
}

const replaced = (list: readonly ProjectFilter[], at: number, next: Partial<ProjectFilter>) =>
  list.map((each, i) => (i === at ? { ...each, ...next } : each));

const LEAST_HZ = 10;
const MOST_CUT_DB = 30;
const MOST_BOOST_DB = 24;
const LEAST_Q = 0.1;
const MOST_Q = 50;

/** Of the sample rate. */
const TOP_SHARE = 0.49;

const sampleRateHz = () => outcome.peek()?.design.sampleRateHz ?? 48000;

/** Numbers that a filter can have at all; what was typed beyond them is brought back. */
function sound({ type, frequencyHz, gainDb, q }: Filter): Filter {
  const topHz = TOP_SHARE * sampleRateHz();
  const clamp = (v: number, min: number, max: number) => Math.min(Math.max(v, min), max);
  return {
    type,
    frequencyHz: Number(clamp(frequencyHz, LEAST_HZ, topHz).toPrecision(5)),
    gainDb: Math.round(clamp(gainDb, -MOST_CUT_DB, MOST_BOOST_DB) * 1000) / 1000,
    q: Math.round(clamp(q, LEAST_Q, MOST_Q) * 10000) / 10000,
  };
}

/** What was last said of filters here. */
let lastSaid: string | undefined;

/** Says what became of what was asked for; where it was done as asked, what was said of an earlier one no longer holds. */
function sayOfFilters(words: string | undefined): void {
  if (words !== undefined || notice.peek() === lastSaid) notice.value = words;
  lastSaid = words;
}

/** Tells of a number that was typed and brought back. */
function tellClamped(letter: string, typed: Filter): void {
  const { frequencyHz, gainDb, q } = sound(typed);
  const far = (a: number, b: number) => Math.abs(a - b) > 1e-3 * Math.abs(a);
  const topHz = Math.floor(TOP_SHARE * sampleRateHz());
  const words = [
    far(typed.frequencyHz, frequencyHz) &&
      `its frequency can be ${LEAST_HZ} to ${topHz} Hz at this sample rate`,
    far(typed.gainDb, gainDb) && `its gain can be -${MOST_CUT_DB} to ${MOST_BOOST_DB} dB`,
    far(typed.q, q) && `its Q can be ${LEAST_Q} to ${MOST_Q}`,
  ].filter((each) => each !== false);
  sayOfFilters(
    words.length === 0
      ? undefined
      : typeset(`Filter ${letter} was brought to the nearest that can be: ${words.join(', ')}.`),
  );
}

/** Changes a filter; what a hand has touched is held by it, so that no refit takes it away. */
export function editFilter(at: number, next: Partial<Filter>, tag?: string): void {
  const present = (project.peek().filters ?? shownFilters.peek())[at];
  if (present && tag === undefined) tellClamped(letterOf(at), { ...present.filter, ...next });
  change(
    `change filter ${letterOf(at)}`,
    (value) =>
      withList(value, (list) => {
        const before = list[at];
        return before
          ? replaced(list, at, { filter: sound({ ...before.filter, ...next }), locked: true })
          : list;
      }),
    tag === undefined ? {} : { tag },
  );
}

export function lockFilter(at: number, locked: boolean): void {
  change(`${locked ? 'hold' : 'let go of'} filter ${letterOf(at)}`, (value) =>
    withList(value, (list) => replaced(list, at, { locked })),
  );
}

/** One that is off is held too: a refit would fill its place otherwise without a word. */
export function switchFilter(at: number, on: boolean): void {
  change(`switch filter ${letterOf(at)} ${on ? 'on' : 'off'}`, (value) =>
    withList(value, (list) => replaced(list, at, { on, ...(!on && { locked: true }) })),
  );
}

export function addFilter(filter: Filter): void {
  change('add a filter', (value) =>
    withList(value, (list) => [...list, { filter: sound(filter), locked: true, on: true }]),
  );
}

export function removeFilter(at: number): void {
  change(`remove filter ${letterOf(at)}`, (value) =>
    withList(value, (list) => list.filter((_, i) => i !== at)),
  );
}

/** What nobody holds is fitted anew around what is held. */
export function refitRest(): void {
  const heldCount = shownFilters.peek().filter(({ locked, on }) => locked && on).length;
  if (heldCount >= bandsAllowed.peek()) {
    const isDeviceFull = device.peek() && bandsAllowed.peek() === bandCount(device.peek()!);
    sayOfFilters(
      `All ${bandsAllowed.peek()} bands are held: let go of one${isDeviceFull ? '; the equalizer has no more' : ', or allow more bands'}.`,
    );
    return;
  }
  sayOfFilters(undefined);
  change('refit the rest', (value) => ({ ...withList(value, (list) => [...list]), refit: true }));
}

/** The fit's own filters again, nothing held. */
export function takeFitsFilters(): void {
  change("take the fit's own filters", ({ filters: _, refit: __, ...value }) => value);
}

export const isTouched = () => project.value.filters !== undefined;
