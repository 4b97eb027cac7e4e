import type { ProtectedSpan } from '../diagnosis/verdict/protectedZones.js';
import type { ZoneAsked } from '../fit/problem/bridgeDips.js';

/** Protected spans as the fit knows them, to which a verdict means nothing. */
export function zonesForFit(zones: readonly ProtectedSpan[]): ZoneAsked[] {
  return zones.map(({ fromHz, toHz, verdict }) => ({ fromHz, toHz, mayFollow: verdict === 'leave' }));
}
