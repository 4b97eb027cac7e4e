import { describe, expect, it } from 'vitest';
import { autoGate } from '../../src/impulse/arrivals/autoGate.js';
import { findPaths } from '../../src/impulse/arrivals/paths.js';
import { missing, referenceImpulse, referenceJson } from './impulseReferenceData.js';

// dEchorate data set, Di Carlo et al., EURASIP J. Audio Speech Music Process., 2021 (licence MIT): impulse responses of
// one loudspeaker in a room of known geometry, echo times annotated by hand.
const reason = missing('room-impulses');
if (reason) console.log(reason);

interface Geometry {
  readonly speedOfSoundMPerS: number;
  readonly microphones: Record<
    string,
    { readonly annotatedDirectS: number; readonly annotatedEchoS: Record<string, number> }
  >;
}

describe.skipIf(reason)('the reflections of a real room', () => {
  const geometry = reason ? undefined : (referenceJson('room-impulses/geometry.json') as Geometry);
  const microphones = ['mic01', 'mic02', 'mic03', 'mic04', 'mic07', 'mic08', 'mic09', 'mic10'];

  it.each(microphones)(
    'at %s include ceiling, x=0 and y=Ly within 0.5 ms of their annotation, in a list of at most 40',
    (name) => {
      const impulse = referenceImpulse(`room-impulses/${name}.wav`);
      const { annotatedDirectS, annotatedEchoS } = geometry!.microphones[name]!;
      const { arrivalS, reflections } = findPaths(impulse, {
        speedOfSoundMPerS: geometry!.speedOfSoundMPerS,
      });
      expect(reflections.length).toBeLessThanOrEqual(40);
      expect(Math.abs(arrivalS - annotatedDirectS)).toBeLessThan(0.1e-3);
      for (const surface of ['z=Lz', 'x=0', 'y=Ly']) {
        const delayS = annotatedEchoS[surface]! - annotatedDirectS;
        const nearest = Math.min(...reflections.map((r) => Math.abs(r.delayS - delayS)));
        expect(nearest).toBeLessThan(0.5e-3);
      }
      // The ceiling is the strongest early one: much closer than the annotators' own uncertainty asks for.
      const ceiling = annotatedEchoS['z=Lz']! - annotatedDirectS;
      expect(Math.min(...reflections.map((r) => Math.abs(r.delayS - ceiling)))).toBeLessThan(0.1e-3);
    },
  );

  it.each(microphones)('at %s are gated off from the ceiling on', (name) => {
    const impulse = referenceImpulse(`room-impulses/${name}.wav`);
    const { annotatedDirectS, annotatedEchoS } = geometry!.microphones[name]!;
    const { afterS } = autoGate(findPaths(impulse))!;
    const ceiling = annotatedEchoS['z=Lz']! - annotatedDirectS;
    expect(ceiling - afterS).toBeGreaterThan(0);
    expect(ceiling - afterS).toBeLessThan(0.3e-3);
  });
});
