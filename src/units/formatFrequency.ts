/** Three significant figures: "61.2 Hz", "297 Hz", "2.5 kHz". */
export function formatFrequency(hz: number): string {
  const rounded = Number(hz.toPrecision(3));
  return rounded < 1000 ? `${rounded} Hz` : `${Number((rounded / 1000).toPrecision(3))} kHz`;
}
