import { z } from 'zod';
import { InputError } from '../inputError.js';
import { type Design, designSchema } from './design.js';
import { refuseUnevenCurves } from './readDesign.js';
import { readJson } from './readJson.js';
import { refuseUnlikeFilters } from './refuseUnlikeFilters.js';

const {
  title,
  sampleRateHz,
  filters,
  device,
  deviceSettings,
  range,
  gateS,
  calibration,
  positions,
  zones,
  curves,
  limits,
  unevenness,
} = designSchema.shape;

const checkableSchema = designSchema.pick({ schemaVersion: true }).extend({
  title: title.exactOptional(),
  sampleRateHz,
  filters,
  device,
  deviceSettings,
  range: range.exactOptional(),
  gateS,
  calibration,
  positions,
  zones: zones.exactOptional(),
  curves: curves.exactOptional(),
  limits: z.object({ smoothingOctaves: limits.shape.smoothingOctaves }).exactOptional(),
  unevenness: unevenness.pick({ afterRmsDb: true }).exactOptional(),
});

/**
 * What of a design a check looks at. The filters alone can be held against a measurement without and one with them;
 * what is missing beside them takes something off what can be told.
 */
export type Checkable = Pick<
  Design,
  'title' | 'sampleRateHz' | 'filters' | 'device' | 'deviceSettings' | 'gateS' | 'calibration' | 'positions'
> &
  Partial<Pick<Design, 'range' | 'zones' | 'curves'>> & {
    readonly limits?: Pick<Design['limits'], 'smoothingOctaves'>;
    readonly unevenness?: Pick<Design['unevenness'], 'afterRmsDb'>;
  };

/**
 * Reads of a design what a check looks at, so that one written by hand or by another program serves as well.
 *
 * @param fileName for messages, and the title where there is none
 * @param hasBefore whether a measurement without the filters is given beside it
 * @param expected as for `readJson`
 * @throws InputError where it is no design, its curves or filters do not belong together, or neither it nor another
 *   file has what was measured without the filters
 */
export function readCheckable(
  text: string,
  fileName: string,
  hasBefore: boolean,
  expected?: string,
): Checkable {
  const read = readJson(checkableSchema, text, fileName, expected);
  if (read.curves) refuseUnevenCurves(read.curves, fileName);
  refuseUnlikeFilters(read, fileName);
  if (!hasBefore) curvesOf(read, fileName);
  return { ...read, title: read.title ?? fileName };
}

/**
 * @param instead what else would do, in words
 * @throws InputError where there are none
 */
export function curvesOf(
  { curves }: Pick<Checkable, 'curves'>,
  name: string,
  instead = 'or give that measurement beside it (--before)',
): Design['curves'] {
  if (curves) return curves;
  throw new InputError(
    `${name}: curves: found nothing, expected what was measured without the filters, as \`nullwise fit\` leaves it there; ${instead}`,
  );
}
