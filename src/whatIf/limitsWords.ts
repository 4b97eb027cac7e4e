import type { PredictionRequest } from './predictionRequest.js';

/** What a prediction cannot know, one sentence each. */
export function limitsWords({ setup, varied, measured }: PredictionRequest): string[] {
  const always = [
    'Surfaces that the set-up does not name (furniture, screens, the wall across) add dips of their own.',
    'In the bass the room rings: below some 200 to 300 Hz in a small room its modes count for more than single reflections, and they are not in this.',
  ];
  const strength =
    'How much a surface really sends back is not known without a measurement: depths are those of a usual wall and a box as wide as the baffle, and may be off by half.';
  const moved = [
    'A reflection is taken to keep its strength but for the longer way and the angle at which it leaves the speaker; a wall that reflects otherwise at another spot, or a shelf that starts there, is not foreseen.',
    'The gain in the bass near a wall follows from the same reflections and from nothing else: how a room loads the speaker at its new place is not foreseen.',
    'How well it does: in simulated rooms with up to four surfaces the curve at the new place came out within 1.5 dB RMS (100 Hz to 1 kHz) nine times in ten; in whole rooms with all their echoes, one time in three.',
    'Above some 2 kHz the curve is left as it was measured: where the fine dips there go, no tape measure can tell.',
    'What no surface explains is carried along as it is, so elsewhere the curve comes out a little rougher than it will be: a gain is rather understated. Measure again at the new place before you trust it.',
  ];
  return [
    ...always,
    ...(measured ? [] : [strength]),
    ...(measured && varied.length > 0 ? moved : []),
    ...(setup.baffleWidthM === undefined
      ? ['No baffle width is given, so a box 18 cm wide was assumed where its size matters.']
      : []),
  ];
}
