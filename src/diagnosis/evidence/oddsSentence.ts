import { exp } from '../../elementary/exponential.js';

/** Log-odds nearer to nothing than this are not told. */
const TELLING = 0.15;

/** The terms that decided a probability, as factors on the odds. */
export function oddsSentence(
  what: string,
  parts: readonly { readonly label: string; readonly logOdds: number }[],
  probability: number,
): string {
  const told = parts
    .filter(({ logOdds }) => Math.abs(logOdds) > TELLING)
    .map(({ label, logOdds }) => `${label} ${factor(logOdds)}`);
  return `Odds for ${what}: ${told.join(', ')}; together ${Math.round(100 * probability)} %.`;
}

function factor(logOdds: number): string {
  return logOdds >= 0 ? `×${digits(exp(logOdds))}` : `÷${digits(exp(-logOdds))}`;
}

function digits(x: number): string {
  return x < 10 ? x.toFixed(1) : x < 1000 ? String(Math.round(x)) : 'more than 1000';
}
