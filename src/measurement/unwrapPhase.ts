const TURN = 2 * Math.PI;

/**
 * Takes out the jumps of a wrapped phase: each step to the next point becomes the one shorter than half a turn.
 * A phase that spans more than one turn was unwrapped by whoever wrote it and stays as it is.
 */
export function unwrapPhase(phaseRad: Float64Array): Float64Array {
  let least = Infinity;
  let most = -Infinity;
  for (const phase of phaseRad) {
    least = Math.min(least, phase);
    most = Math.max(most, phase);
  }
  if (most - least > TURN * (1 + 1e-6)) return phaseRad;
  let turns = 0;
  return phaseRad.map((phase, i) => {
    if (i > 0) turns -= Math.round((phase - phaseRad[i - 1]!) / TURN);
    return phase + TURN * turns;
  });
}
