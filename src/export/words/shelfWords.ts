import type { Design } from '../../schema/design.js';

/** Slope 1 is a Q of 0.71; from about here on a shelf's overshoot is plain to see. */
const SHARP_Q = 1;
/** What shelves of slope 1 have: as steep as they get without overshoot. */
const GENTLE_Q = 0.71;

/** Whether shelves are so sharp that someone may not want them, and how to have none; nothing where a limit was asked for. */
export function shelfWords({ filters, limits }: Design): string | undefined {
  if (limits.maxShelfQ !== undefined) return undefined;
  const sharp = filters.filter(({ type, q }) => type !== 'peaking' && q > SHARP_Q).length;
  if (sharp === 0) return undefined;
  const [are, overshoot] =
    sharp === 1
      ? ['one of them is a shelf', 'which overshoots']
      : [`${sharp} of them are shelves`, 'which overshoot'];
  return `${are} sharper than Q ${SHARP_Q}, ${overshoot} at both ends; --shelf-q-max ${GENTLE_Q} keeps to gentle ones`;
}
