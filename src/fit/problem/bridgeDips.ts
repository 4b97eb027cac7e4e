import type { FrequencyRange } from '../../curve/curve.js';
import { interpolateLevel } from '../../curve/interpolateLevel.js';

/** A protected span; where it `mayFollow`, the EQ goes on in it as the curve on both sides asks for. */
export interface ZoneAsked extends FrequencyRange {
  readonly mayFollow?: boolean;
}

/** A zone with those of its edges that say what the curve would be without the dip. */
export interface Bridge extends FrequencyRange {
  /** One edge or two, ascending. */
  readonly edgesHz: readonly number[];
}

/** Zones that may follow on a grid over the range; an edge at an end of the range or inside another zone lies in a dip itself and says nothing. */
export function bridgesOver(zones: readonly ZoneAsked[], frequencyHz: Float64Array): Bridge[] {
  const isShared = (hz: number) => zones.filter(({ fromHz, toHz }) => hz >= fromHz && hz <= toHz).length > 1;
  const isEdge = (hz: number) => hz > frequencyHz[0]! && hz < frequencyHz.at(-1)! && !isShared(hz);
  return zones
    .filter(({ mayFollow }) => mayFollow)
    .map(({ fromHz, toHz }) => ({ fromHz, toHz, edgesHz: [fromHz, toHz].filter(isEdge) }))
    .filter(({ edgesHz }) => edgesHz.length > 0);
}

/** The curve with a straight line over log frequency in place of each dip; level from its one edge where there is but one. */
export function bridgeDips(
  frequencyHz: Float64Array,
  levelDb: Float64Array,
  bridges: readonly Bridge[],
): Float64Array {
  const bridged = levelDb.slice();
  for (const { fromHz, toHz, edgesHz } of bridges) {
    const edges = Float64Array.from(edgesHz);
    const line = {
      frequencyHz: edges,
      levelDb: edges.map((hz) => interpolateLevel({ frequencyHz, levelDb }, hz)),
    };
    frequencyHz.forEach((hz, i) => {
      if (hz >= fromHz && hz <= toHz) bridged[i] = interpolateLevel(line, hz);
    });
  }
  return bridged;
}
