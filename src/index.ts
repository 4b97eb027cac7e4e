export { design } from './design.js';
export { InputError } from './inputError.js';
export { DEFAULT_LIMITS, type DesignRequest, type MeasuredRequest } from './pipeline/designRequest.js';
export { diagnoseMeasurements } from './pipeline/diagnoseMeasurements.js';
export { type Design, designSchema } from './schema/design.js';
export type { Warning } from './warning.js';
