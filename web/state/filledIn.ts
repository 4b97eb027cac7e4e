import type { DeviceProfile } from '../../src/device/profile/deviceProfile.js';
import type { Filter } from '../../src/filter/filter.js';
import { realBank } from '../../src/pipeline/realBank.js';
import type { Design } from '../../src/schema/design.js';
import type { Project } from '../store/project.js';

const near = (a: number, b: number) => Math.abs(a - b) <= 1e-4 * Math.abs(a) + 1e-9;

const isSame = (a: Filter, b: Filter) =>
  a.type === b.type && near(a.frequencyHz, b.frequencyHz) && near(a.gainDb, b.gainDb) && near(a.q, b.q);

/** Filters without those that are held, each of which is among them once, in the nearest values that the device has. */
function withoutHeld(
  { filters, sampleRateHz }: Design,
  held: readonly Filter[],
  device: DeviceProfile | undefined,
): Filter[] {
  const left = [...filters];
  for (const filter of realBank(held, sampleRateHz, device).filters) {
    const at = left.findIndex((each) => isSame(filter, each));
    if (at !== -1) left.splice(at, 1);
  }
  return left;
}

/**
 * A project that waits for a fit, with what was fitted in the place of the filters that nobody holds; the project itself where
 * it waits for none.
 *
 * @param whole the fit is at its end: nothing is waited for any more
 * @param device that the design was made for
 */
export function filledIn(project: Project, design: Design, whole: boolean, device?: DeviceProfile): Project {
  const { filters: own, refit } = project;
  if (!own || !refit) return project;
  const kept = own.map((each) => (each.locked ? each : undefined));
  const sounding = own.filter(({ locked, on }) => locked && on).map(({ filter }) => filter);
  const fresh = withoutHeld(design, sounding, device)
    .sort((x, y) => x.frequencyHz - y.frequencyHz)
    .map((filter) => ({ filter, locked: false, on: true }));
  // What is held keeps its place in the list, since a hand may be on it.
  const merged = kept.flatMap((each) => each ?? fresh.shift() ?? []).concat(fresh);
  const { filters: _, refit: __, ...rest } = project;
  return kept.some((each) => each) ? { ...rest, filters: merged, ...(!whole && { refit: true }) } : rest;
}
