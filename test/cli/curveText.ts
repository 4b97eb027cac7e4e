/** One hump and one hollow, both broad, on a level of 80 dB: simulated, as a measurement file. */
export function curveText({ rows = 240, offsetDb = 0 } = {}): string {
  const lines = Array.from({ length: rows }, (_, i) => {
    const frequencyHz = 20 * 1000 ** (i / (rows - 1));
    const bell = (centreHz: number, octaves: number) =>
      Math.exp(-((Math.log2(frequencyHz / centreHz) / octaves) ** 2));
    const levelDb = 80 + offsetDb + 5 * bell(120, 0.5) - 3 * bell(2500, 0.7);
    return `${frequencyHz.toFixed(3)} ${levelDb.toFixed(3)}`;
  });
  return ['# simulated: a hump and a hollow', ...lines, ''].join('\n');
}
