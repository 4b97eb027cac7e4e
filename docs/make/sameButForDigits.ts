const NUMBER = /[-−]?\d+(?:\.\d+)?/g;

/**
 * Where two texts differ by more than the last digits of their numbers, or nothing. Functions such as exp and sin
 * differ in the last place from one engine to another, so what is printed may be rounded the other way.
 */
export function differenceOf(found: string, expected: string, slack: number): string | undefined {
  const words = (text: string) => text.split(NUMBER);
  const [foundWords, expectedWords] = [words(found), words(expected)];
  const [foundNumbers, expectedNumbers] = [found.match(NUMBER) ?? [], expected.match(NUMBER) ?? []];
  for (let i = 0; i < expectedWords.length; i++) {
    if (foundWords[i] !== expectedWords[i]) {
      return `found ${JSON.stringify(foundWords[i]?.slice(0, 200))}, expected ${JSON.stringify(expectedWords[i]!.slice(0, 200))}, after ${JSON.stringify(
        expectedWords
          .slice(Math.max(0, i - 3), i)
          .join('#')
          .slice(-200),
      )}`;
    }
    const [a, b] = [foundNumbers[i], expectedNumbers[i]];
    if (a === undefined || b === undefined) continue;
    const unit = 10 ** -(b.split('.')[1]?.length ?? 0);
    const apart = Math.abs(numberOf(a) - numberOf(b));
    if (apart > slack * unit + 1e-9)
      return `found ${a}, expected ${b}, in ${JSON.stringify(expectedWords[i]!.slice(-80))}`;
  }
  return foundWords.length > expectedWords.length ? 'found more than expected' : undefined;
}

const numberOf = (text: string) => Number(text.replace('−', '-'));
