import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Curve } from '../../src/curve/curve.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { resampleToGrid } from '../../src/curve/resampleToGrid.js';
import { sliceCurve } from '../../src/curve/sliceCurve.js';
import { smoothOctave } from '../../src/curve/smoothOctave.js';
import { realFft } from '../../src/impulse/samples/fft.js';
import { looksSmoothed } from '../../src/measurement/looksSmoothed.js';
import { smoothingWidth } from '../../src/measurement/smoothingWidth.js';
import { readWavChannel } from '../../src/measurement/wavFile.js';

// Real room responses: dEchorate (Di Carlo et al., EURASIP J. Audio Speech Music Process., 2021), licence MIT; an
// anechoic loudspeaker: MIT Media Laboratory (B. Gardner, K. Martin), 1994. Not part of this repository.
const folder = '../shared/refdata';
const rooms = ['mic01', 'mic02', 'mic03', 'mic04', 'mic07', 'mic08', 'mic09', 'mic10'].map(
  (name) => `${folder}/room-impulses/${name}.wav`,
);
const anechoic = `${folder}/anechoic-loudspeaker/impulse.wav`;

function responseOf(path: string): Curve {
  const size = 65_536;
  const { samples, sampleRateHz } = readWavChannel(readFileSync(path), path);
  const { bins } = realFft(samples, size);
  const frequencyHz = Float64Array.from({ length: size / 2 - 1 }, (_, k) => ((k + 1) * sampleRateHz) / size);
  const levelDb = frequencyHz.map(
    (_, k) => 20 * Math.log10(Math.hypot(bins[2 * k + 2]!, bins[2 * k + 3]!) + 1e-15),
  );
  return sliceCurve({ frequencyHz, levelDb }, { fromHz: 20, toHz: 20_000 });
}

// The data set lies beside some checkouts only; without it there is nothing to read.
describe.skipIf(!existsSync(rooms[0]!))('looksSmoothed on measured responses', () => {
  it('raises no alarm on any of them, on their own points and on two log grids', () => {
    for (const path of [...rooms, anechoic]) {
      const curve = responseOf(path);
      for (const perOctave of [48, 96]) {
        const onGrid = resampleToGrid(curve, logGrid(20, 20_000, perOctave));
        expect(looksSmoothed(onGrid), path).toEqual([]);
      }
      expect(looksSmoothed(curve), path).toEqual([]);
    }
  });

  it('sees smoothing to 1/12 octave in most of the rooms', () => {
    const seen = rooms.filter((path) => looksSmoothed(smoothOctave(responseOf(path), 1 / 12)).length > 0);
    expect(seen.length).toBeGreaterThanOrEqual(6);
  });

  it('knows a mean over 1/3 and 1/2 octave by its width in most of the rooms', () => {
    for (const width of [1 / 3, 1 / 2]) {
      const widths = rooms.map((path) =>
        smoothingWidth(resampleToGrid(smoothOctave(responseOf(path), width), logGrid(20, 20_000, 48))),
      );
      expect(widths.filter((each) => each === width).length, `${widths}`).toBeGreaterThanOrEqual(6);
    }
  });
});
