export type { MeasuredLength, Setup, Surface } from './acoustics/setup.js';
export type { Curve, FrequencyRange } from './curve/curve.js';
export { design, type Shortcuts } from './design.js';
export type {
  DeviceBands,
  DeviceCoefficients,
  DeviceDelay,
  DeviceProfile,
  DeviceRange,
} from './device/profile/deviceProfile.js';
export { shippedDevices } from './device/profile/shippedDevices.js';
export type { Cause, Finding, Verdict } from './diagnosis/verdict/finding.js';
export {
  type Exported,
  type ExportedFile,
  type ExportRequest,
  exportDesign,
  exportFormats,
} from './export/exportDesign.js';
export { bankResponseDb } from './filter/bankResponseDb.js';
export type { BiquadCoefficients, Filter, FilterType } from './filter/filter.js';
export type { FixedPointFormat, FixedPointRounding } from './filter/fixedPoint.js';
export type { FeedbackSign } from './filter/roundCoefficients.js';
export type { GateChoice } from './impulse/analyseImpulse.js';
export type { Reflection } from './impulse/arrivals/paths.js';
export { InputError } from './inputError.js';
export type { KeptSound, Measurement } from './measurement/measurement.js';
export { type MeasurementReading, readMeasurement } from './measurement/readMeasurement.js';
export { DEFAULT_LIMITS, type DesignRequest, type MeasuredRequest } from './pipeline/designRequest.js';
export { type DiagnosedMeasurements, diagnoseMeasurements } from './pipeline/diagnoseMeasurements.js';
export type { Overrule } from './pipeline/overruleFindings.js';
export type { Checkable } from './schema/checkable.js';
export type { Correction } from './schema/correction.js';
export { type Design, designSchema } from './schema/design.js';
export { readDevice } from './schema/device.js';
export { readSetup } from './schema/setup.js';
export { readTarget } from './schema/target.js';
export type { Verification } from './schema/verification.js';
export type { TargetRequest } from './target/targetRequest.js';
export type { OtherChannel } from './verify/channelHypotheses.js';
export type { Seen } from './verify/comparison.js';
export type { AsMeasured } from './verify/measuredBefore.js';
export type { TakenOff } from './verify/otherCalibration.js';
export { type VerifyRequest, verifyDesign } from './verify/verifyDesign.js';
export type { Warning } from './warning.js';
export { type ExplainedCurve, explainCurve } from './whatIf/explainCurve.js';
export { type MicrophonePlace, type Move, movePlacement } from './whatIf/movePlacement.js';
export type { VariedSpan } from './whatIf/placementSteps.js';
export { predictionReport } from './whatIf/predictionReport.js';
export type { PredictionRequest } from './whatIf/predictionRequest.js';
export { whatIfCurve } from './whatIf/whatIfCurve.js';
