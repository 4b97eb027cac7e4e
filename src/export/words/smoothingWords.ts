/** The width of the smoothing in words: "1/12 octave", "none". */
export function smoothingWords(smoothingOctaves: number): string {
  if (smoothingOctaves <= 0) return 'not at all';
  const parts = 1 / smoothingOctaves;
  const whole = Math.round(parts);
  if (Math.abs(parts - whole) < 1e-3 && whole > 1) return `1/${whole} octave`;
  return `${Number(smoothingOctaves.toPrecision(3))} octave`;
}
