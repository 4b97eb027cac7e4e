const WORDS: Readonly<Record<string, string>> = {
  bassShelf: 'Bass shelf',
  bassShelfFrequency: 'Bass shelf frequency',
  tilt: 'Tilt',
  level: 'Level',
  from: 'Lowest frequency',
  to: 'Highest frequency',
  bands: 'Bands',
  maxBoost: 'Most boost',
  maxCut: 'Most cut',
  maxLevelLoss: 'Most loss of loudness',
  qMin: 'Least Q',
  qMax: 'Greatest Q',
  shelfQMax: 'Greatest Q of a shelf',
  sampleRate: 'Sample rate',
  smoothing: 'Smoothing',
  repeatability: 'Repeats to',
  seed: 'Seed',
};

/** What the sheet calls a field of the options. */
export function optionWords(field: string): string {
  return WORDS[field] ?? field;
}
