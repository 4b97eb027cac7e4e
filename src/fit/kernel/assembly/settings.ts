// What an objective asks for (see ObjectiveOptions).

export let sampleRateHz: f64 = 0;
export let penalty: f64 = 0;
export let restraint: f64 = 0;
export let levelRestraint: f64 = 0;
export let maxLevelLossDb: f64 = 0;
export let levelIsGiven: bool = false;
export let givenLevelDb: f64 = 0;
/** Whether derivatives end where they no longer matter. */
export let cutToReach: bool = false;

export function set(
  rateHz: f64,
  ofViolations: f64,
  ofEq: f64,
  ofMean: f64,
  lossDb: f64,
  given: bool,
  levelDb: f64,
  cut: bool,
): void {
  sampleRateHz = rateHz;
  penalty = ofViolations;
  restraint = ofEq;
  levelRestraint = ofMean;
  maxLevelLossDb = lossDb;
  levelIsGiven = given;
  givenLevelDb = levelDb;
  cutToReach = cut;
}
