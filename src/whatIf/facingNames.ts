/** What people call surfaces of a room that stand across from each other: below and above, left and right, back and front. */
const OPPOSITES: readonly (readonly [RegExp, RegExp])[] = [
  [/\b(?:floor|ground)\b/i, /\b(?:ceiling|roof)\b/i],
  [/\bleft\b/i, /\bright\b/i],
  [/\b(?:behind|back|rear)\b/i, /\b(?:front|opposite|across|facing)\b/i],
];

/** Whether two surfaces are called what faces each other in a room: "floor" and "ceiling". */
export function haveFacingNames(a: string, b: string): boolean {
  return OPPOSITES.some(([one, other]) => (one.test(a) && other.test(b)) || (one.test(b) && other.test(a)));
}

/** Whether a surface is called floor or ceiling, which are as far apart as the room is high. */
export function isLevel(name: string): boolean {
  const [below, above] = OPPOSITES[0]!;
  return below.test(name) || above.test(name);
}
