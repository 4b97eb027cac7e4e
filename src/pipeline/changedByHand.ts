/** Why the search of a design ended whose filters somebody chose. */
export const CHANGED_BY_HAND = 'changed by hand';
