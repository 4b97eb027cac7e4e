import { type Design, designSchema } from './design.js';
import { readJson } from './readJson.js';
import { refuseUnlikeFilters } from './refuseUnlikeFilters.js';

/** What of a design goes into an equalizer; the rest says how it came about and what it promises. */
export type Correction = Pick<
  Design,
  'title' | 'sampleRateHz' | 'inputGainDb' | 'filters' | 'device' | 'deviceSettings'
>;

const { title, sampleRateHz, inputGainDb, filters, device, deviceSettings } = designSchema.shape;

const correctionSchema = designSchema
  .pick({ schemaVersion: true })
  .extend({ title: title.exactOptional(), sampleRateHz, inputGainDb, filters, device, deviceSettings });

/**
 * Reads of a design what goes into an equalizer, so that one written by hand or by another program serves as well.
 *
 * @param fileName for messages, and the title where there is none
 * @param expected as for `readJson`
 * @throws InputError where it is no design, or its filters are not at home at its sample rate
 */
export function readCorrection(text: string, fileName: string, expected?: string): Correction {
  const read = readJson(correctionSchema, text, fileName, expected);
  refuseUnlikeFilters(read, fileName);
  return { ...read, title: read.title ?? fileName };
}
