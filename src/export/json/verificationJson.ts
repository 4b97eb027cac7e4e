import { type Verification, verificationSchema } from '../../schema/verification.js';
import { stableJson } from './stableJson.js';

/** `verify --json` and verification.json; a value that is no verification throws. */
export function verificationJson(verification: Verification): string {
  return stableJson(verificationSchema.parse(verification));
}
