/** The labelled frequencies of every drawing. */
export const frequencyTicks: readonly { readonly hz: number; readonly label: string }[] = [
  { hz: 20, label: '20' },
  { hz: 50, label: '50' },
  { hz: 100, label: '100' },
  { hz: 200, label: '200' },
  { hz: 500, label: '500' },
  { hz: 1000, label: '1k' },
  { hz: 2000, label: '2k' },
  { hz: 5000, label: '5k' },
  { hz: 10000, label: '10k' },
  { hz: 20000, label: '20k' },
];

/** The unlabelled ones between them: 30, 40, 60 … 9000. */
export const minorFrequencyTicksHz: readonly number[] = [10, 100, 1000]
  .flatMap((decade) => [3, 4, 6, 7, 8, 9].map((digit) => digit * decade))
  .filter((hz) => hz > 20);
