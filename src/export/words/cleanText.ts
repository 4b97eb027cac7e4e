// C0 and C1 controls (line ends and terminal escapes among them), the invisible marks that turn text around,
// lone surrogates and the two code points that XML 1.0 forbids.
const UNWANTED =
  /[\p{Cc}\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufffe\uffff]|\p{Surrogate}/gu;

/**
 * Text from a file made fit for one line of a terminal, an SVG or a page: nothing in it can move the cursor,
 * break the line, reverse the reading direction or make an XML document invalid. Escaping is not done here.
 */
export function cleanText(text: string): string {
  return text.replace(UNWANTED, ' ').replace(/ {2,}/g, ' ').trim();
}
