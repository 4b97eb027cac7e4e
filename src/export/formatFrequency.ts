/** `frequencyHz` for reading, three significant digits: "61.2 Hz", "297 Hz", "1.25 kHz", "16 kHz". */
export function formatFrequency(frequencyHz: number): string {
  const rounded = Number(frequencyHz.toPrecision(3));
  return rounded >= 1000 ? `${rounded / 1000} kHz` : `${rounded} Hz`;
}
