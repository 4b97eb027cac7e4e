/**
 * Three significant figures, by way of the five that a design holds, so that what is told of a frequency before it is
 * written down and after is the same: "61.2 Hz", "297 Hz", "2.5 kHz".
 */
export function formatFrequency(hz: number): string {
  const rounded = Number(Number(hz.toPrecision(5)).toPrecision(3));
  return rounded < 1000 ? `${rounded} Hz` : `${Number((rounded / 1000).toPrecision(3))} kHz`;
}
