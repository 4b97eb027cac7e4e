import type { Filter } from '../../src/filter/filter.js';
import type { Design } from '../../src/schema/design.js';
import type { Project } from '../store/project.js';

const isSame = (a: Filter, b: Filter) =>
  a.type === b.type && a.frequencyHz === b.frequencyHz && a.gainDb === b.gainDb && a.q === b.q;

/**
 * A project that waits for a fit, with what was fitted in the place of the filters that nobody holds; the project itself where
 * it waits for none.
 *
 * @param whole the fit is at its end: nothing is waited for any more
 */
export function filledIn(project: Project, design: Design, whole: boolean): Project {
  const { filters: own, refit } = project;
  if (!own || !refit) return project;
  const kept = own.map((each) => (each.locked ? each : undefined));
  const sounding = own.filter(({ locked, on }) => locked && on);
  const fresh = design.filters
    .filter((filter) => !sounding.some((each) => isSame(each.filter, filter)))
    .sort((x, y) => x.frequencyHz - y.frequencyHz)
    .map((filter) => ({ filter, locked: false, on: true }));
  // What is held keeps its place in the list, since a hand may be on it.
  const merged = kept.flatMap((each) => each ?? fresh.shift() ?? []).concat(fresh);
  const { filters: _, refit: __, ...rest } = project;
  return kept.some((each) => each) ? { ...rest, filters: merged, ...(!whole && { refit: true }) } : rest;
}
