import { computed, effect, signal } from '@preact/signals';
import type { Setup } from '../../src/acoustics/setup.js';
import { smoothOctave } from '../../src/curve/smoothOctave.js';
import { readSetup } from '../../src/schema/setup.js';
import { whatIfCurve } from '../../src/whatIf/whatIfCurve.js';
import { basis, elsewhere, explained } from './found.js';
import { project } from './present.js';
import { askBesides, change } from './session.js';
import { setupText } from './setupText.js';
import { setup } from './shown.js';

/** Where the speaker is while it is being moved. */
const moving = signal<Setup | undefined>(undefined);

const namesOf = ({ surfaces }: Setup) => JSON.stringify(surfaces.map(({ name }) => name));

const kept = computed<Setup | undefined>(() => {
  const text = project.value.whatIf;
  const home = setup.value;
  if (text === undefined || !home) return undefined;
  try {
    const there = readSetup(text, 'elsewhere');
    return namesOf(there) === namesOf(home) ? there : undefined;
  } catch {
    return undefined; // a project is checked when it is opened; what is unreadable all the same is left out
  }
});

/** Where the speaker is drawn: where it was measured unless it has been moved. */
export const placed = computed(() => moving.value ?? kept.value ?? setup.value);
export const isElsewhere = computed(() => setup.value !== undefined && placed.value !== setup.value);

const moved = computed(() => {
  const where = placed.value;
  const taken = explained.value;
  if (!where || !taken || !isElsewhere.value || where.surfaces.length !== taken.setup.surfaces.length) {
    return undefined;
  }
  return whatIfCurve(taken, where);
});

/** The smoothed curve as it would be there, on the measurement's own scale. */
export const movedSmoothedDb = computed(() => {
  const curve = moved.value;
  const found = basis.value;
  if (!curve || !found) return undefined;
  const { referenceDb } = found.diagnosed.prepared;
  return smoothOctave(curve, found.request.smoothingOctaves).levelDb.map((db) => db + referenceDb);
});

/** What a refit there would give; while a drag goes on that of a moment ago. */
export const movedDesign = computed(() => (isElsewhere.value ? elsewhere.value?.design : undefined));

/** The curve is taken apart as soon as something is to be known of elsewhere. */
const wanted = signal(false);
effect(() => {
  const found = basis.value;
  const where = setup.value;
  if (!found || !where || explained.value || !(wanted.value || kept.value)) return;
  askBesides({ kind: 'explain', basis: found, setup: where });
});

effect(() => {
  const curve = moved.value;
  const where = placed.value;
  const found = basis.value;
  if (!curve || !where || !found) return;
  askBesides({ kind: 'elsewhere', basis: found, setup: where, levelDb: curve.levelDb });
});

/** The plan has come into sight: the curve is taken apart before it is needed. */
export function expectMoves(): void {
  wanted.value = true;
}

/** The speaker was moved on the plan; nothing of what was measured changes by that. */
export function moveSpeaker(to: Setup, done: boolean): void {
  wanted.value = true;
  if (!done) {
    moving.value = to;
    return;
  }
  moving.value = undefined;
  const home = setup.value;
  const isHome = home !== undefined && setupText(to) === setupText(home);
  change(isHome ? 'put the speaker back' : 'move the speaker', ({ whatIf: _, ...value }) => ({
    ...value,
    ...(!isHome && { whatIf: setupText(to) }),
  }));
}

/** A distance had been measured wrongly: the set-up itself changes, and all that follows from it. */
export function correctSetup(to: Setup): void {
  takeSetup('correct the set-up', to);
}

/** The distances were typed where nothing was known of them. */
export function describeSetup(to: Setup): void {
  takeSetup('describe the set-up', to);
}

function takeSetup(label: string, to: Setup): void {
  moving.value = undefined;
  change(
    label,
    ({ whatIf: _, ...value }) => ({
      ...value,
      files: [
        ...value.files.filter(({ role }) => role !== 'setup'),
        {
          name: value.files.find(({ role }) => role === 'setup')?.name ?? 'setup.json',
          role: 'setup',
          encoding: 'text',
          content: setupText(to),
        },
      ],
    }),
    { refit: true },
  );
}
