import { type ResponseReport, responseSchema } from '../../schema/response.js';
import { stableJson } from './stableJson.js';

/** The same response always gives the same bytes; a value that is no response throws. */
export function responseJson(report: ResponseReport): string {
  return stableJson(responseSchema.parse(report));
}
