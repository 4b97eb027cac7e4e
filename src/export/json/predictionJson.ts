import { type Prediction, predictionSchema } from '../../schema/prediction.js';
import { stableJson } from './stableJson.js';

/** `predict --json` and prediction.json; a value that is no prediction throws. */
export function predictionJson(prediction: Prediction): string {
  return stableJson(predictionSchema.parse(prediction));
}
