import { type Design, designSchema } from '../../schema/design.js';
import { stableJson } from './stableJson.js';

/**
 * `design.json`: the same design always gives the same bytes, whatever order its keys were built in, because the
 * schema puts them into its own. A value that is no design (a NaN among its numbers, say) throws.
 */
export function designJson(design: Design): string {
  return stableJson(designSchema.parse(design));
}
