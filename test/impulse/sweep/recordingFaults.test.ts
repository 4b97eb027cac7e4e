import { describe, expect, it } from 'vitest';
import { arraySource } from '../../../src/impulse/samples/sampleSource.js';
import { type DeconvolutionOptions, deconvolveSweep } from '../../../src/impulse/sweep/deconvolveSweep.js';
import { sweepSignal } from '../../../src/impulse/sweep/exponentialSweep.js';
import { type SweepOptions, sweepParameters } from '../../../src/impulse/sweep/sweepParameters.js';
import { InputError } from '../../../src/inputError.js';
import { filtered, noise, pass, peaking } from '../digitalSystem.js';

const rate = 48_000;
const system = [pass('high', 60, 0.7, rate), peaking(500, 5, 3, rate), peaking(3000, -4, 2, rate)];
const told = sweepParameters({ durationS: 4 });
/** Of the noise under every recording here: standard deviation, and what it takes for 0 dB. */
const quiet = 1e-4;

/** What the microphone hears of a sweep: a speaker, two reflections, noise, and what is put on top. */
function heard(options: SweepOptions = { durationS: 4 }, on: (n: number) => number = () => 0, hiss = quiet) {
  const played = filtered(system, sweepSignal(sweepParameters(options)));
  const random = noise(played.length, 5);
  return played.map(
    (v, n) => v + 0.4 * (played[n - 170] ?? 0) + 0.3 * (played[n - 400] ?? 0) + hiss * random[n]! + on(n),
  );
}

const heardClean = heard();
const result = (recording: Float64Array, options: DeconvolutionOptions = {}, sweep = told) =>
  deconvolveSweep(arraySource(recording), sweep, options);
const codes = (recording: Float64Array) => result(recording).warnings.map(({ code }) => code);

/** A knock on the table: noise and a boom that die away. */
const knock = (atS: number, size: number) => {
  const random = noise(rate, 9);
  return (n: number) => {
    const t = n / rate - atS;
    if (t < 0 || t > 0.5) return 0;
    return (
      size *
      (random[n - Math.ceil(atS * rate)]! * Math.exp(-t / 0.02) + Math.sin(500 * t) * Math.exp(-t / 0.05))
    );
  };
};

describe('a clean recording', () => {
  it('is not found fault with', () => {
    expect(codes(heardClean)).toEqual([]);
    expect(codes(heardClean.map((v) => -0.03 * v))).toEqual([]);
  });

  it('has the signal to noise that its definition gives, by octave', () => {
    // A wire, so that |H|² = 1; white noise of variance σ² becomes σ²·4f/(A²·fs²·L) a sample (Farina 2000, |X|² of the sweep).
    const random = noise(told.sampleRateHz * 6.5, 5);
    const wire = sweepSignal(told).map((v, n) => v + 1e-3 * random[n]!);
    const { octaves, impulse } = result(wire);
    expect(octaves!.map(({ centreHz }) => centreHz)).toEqual([
      31.25, 62.5, 125, 250, 500, 1000, 2000, 4000, 8000, 16_000,
    ]);
    const L = 4 / Math.log(1000);
    for (const { centreHz, signalToNoiseDb } of octaves!) {
      // Of the octave, cut off at the end of the sweep: the middle of its band in Hz.
      const f = (centreHz / Math.SQRT2 + Math.min(20_000, centreHz * Math.SQRT2)) / 2;
      const density = (1e-6 * 4 * f) / (10 ** (-12 / 10) * rate ** 2 * L);
      const exact = -10 * Math.log10(density * impulse.samples.length);
      // The low octaves hold few independent values of the noise.
      expect(Math.abs(signalToNoiseDb - exact)).toBeLessThan(centreHz < 500 ? 4 : 1.5);
    }
  });

  it('has harmonics that are told from the noise', () => {
    const { harmonics } = result(heardClean);
    expect(harmonics.map(({ order }) => order)).toEqual([2, 3, 4, 5]);
    for (const { curve, relativeDb, noiseDb } of harmonics) {
      // Nothing but noise is in this speaker's harmonics.
      const over = Array.from(relativeDb, (db, i) => db - noiseDb![i]!).filter(
        (_, i) => curve.frequencyHz[i]! > 250,
      );
      expect(Math.abs(over.reduce((sum, db) => sum + db, 0) / over.length)).toBeLessThan(1);
    }
  });

  it('has no signal to noise where there is no silence to take it from', () => {
    const tight = sweepParameters({ durationS: 4, silenceBeforeS: 0, silenceAfterS: 0.5 });
    const { octaves, harmonics } = result(heard(tight), {}, tight);
    expect(octaves).toBeUndefined();
    expect(harmonics[0]!.noiseDb).toBeUndefined();
  });
});

describe('noise', () => {
  it('is warned of octave by octave, and where it drowns the sweep', () => {
    const noisy = result(heard(undefined, undefined, 0.1)).warnings;
    const [drowned, low] = noisy;
    expect(noisy.map(({ code }) => code)).toEqual(['no-clear-response', 'low-signal-to-noise']);
    expect(drowned!.message).toMatch(/the noise drowns it\. Keep less of it/);
    expect(low!.message).toMatch(/octaves around .*8000 Hz, 16000 Hz/);
    expect(low!.message).not.toMatch(/around.* 125 Hz/);
  });

  it('of the mains is told by its lines and by what they do to the curve', () => {
    const mains = (hz: number, size: number) => (n: number) =>
      size * (Math.sin((2 * Math.PI * hz * n) / rate) + 0.5 * Math.sin((6 * Math.PI * hz * n) / rate));
    for (const hz of [50, 60]) {
      const [hum, ...others] = result(heard(undefined, mains(hz, 0.005))).warnings;
      expect(others).toEqual([]);
      expect(hum!.code).toBe('hum');
      expect(hum!.message).toContain(`hum at ${hz}, ${3 * hz} Hz`);
    }
    // By definition: a tone of amplitude a has a·M/2 in M samples, over |X|; the wire has 1.
    const random = noise(told.sampleRateHz * 6.5, 5);
    const wire = sweepSignal(told).map(
      (v, n) => v + 1e-5 * random[n]! + 0.002 * Math.sin((2 * Math.PI * 50 * n) / rate),
    );
    const { warnings, impulse } = result(wire);
    const L = 4 / Math.log(1000);
    const inverse = Math.sqrt((4 * 50) / (10 ** (-12 / 10) * rate ** 2 * L));
    const exact = 20 * Math.log10(1 + ((0.002 * impulse.samples.length) / 2) * inverse);
    const said = Number(/up to ([\d.]+) dB/.exec(warnings[0]!.message)![1]);
    expect(Math.abs(said - exact)).toBeLessThan(0.3);
    expect(codes(heard(undefined, mains(50, 2e-5)))).toEqual([]);
  });

  it.each([1.2, 2.5, 5.5])('of a knock after %f s is found and timed', (atS) => {
    const { warnings } = result(heard(undefined, knock(atS, 0.5)));
    const found = warnings.find(({ code }) => code === 'recording-disturbed');
    const said = Number(/A noise ([\d.]+) s/.exec(found?.message ?? '')?.[1]);
    expect(Math.abs(said - atS)).toBeLessThan(0.05);
  });

  it('of a faint knock is let pass, as is the decay of a hall', () => {
    expect(codes(heard(undefined, knock(2.5, 0.001)))).toEqual([]);
    // 2 s long, an echo every 5 ms.
    const signs = noise(400, 8);
    const dry = filtered(system, sweepSignal(told));
    const hall = heardClean.slice();
    for (let echo = 1; echo < 400; echo++) {
      const size = 0.2 * signs[echo]! * 10 ** ((-3 * echo) / 400);
      const late = echo * 240 + Math.round(100 * signs[400 - echo]!);
      for (let n = Math.max(0, late); n < hall.length; n++) hall[n] = hall[n]! + size * dry[n - late]!;
    }
    expect(codes(hall)).toEqual([]);
  });
});

describe('a recording that something cut into while the sweep sounded', () => {
  // When an exponential sweep is at f: T·ln(f/f₁)/ln(f₂/f₁) after its start (Farina 2000).
  const passes = (hz: number) => 0.5 + (4 * Math.log(hz / 20)) / Math.log(1000);
  const cuts: Record<string, (x: Float64Array, at: number, n: number) => Float64Array> = {
    'samples set to zero': (x, at, n) => x.map((v, i) => (i >= at && i < at + n ? 0 : v)),
    'samples left out': (x, at, n) => x.map((_, i) => x[i < at ? i : i + n] ?? 0),
    'samples played twice': (x, at, n) => x.map((_, i) => x[i < at ? i : i - n] ?? 0),
    'half the level from there on': (x, at) => x.map((v, i) => (i < at ? v : 0.5 * v)),
  };

  it.each(Object.keys(cuts))('is warned of, with when and where: %s', (kind) => {
    for (const hz of [300, 1000]) {
      const cut = cuts[kind]!(heardClean, Math.round(passes(hz) * rate), 0.02 * rate);
      const { warnings } = result(cut);
      const found = warnings.find(({ code }) => code === 'sweep-broken');
      const [, saidHz] = /Around ([\d.]+) Hz/.exec(found?.message ?? '') ?? [];
      const [, saidS] = /about ([\d.]+) s after the start/.exec(found?.message ?? '') ?? [];
      expect(Math.abs(Math.log2(Number(saidHz) / hz))).toBeLessThan(0.75);
      expect(Math.abs(Number(saidS) - passes(hz))).toBeLessThan(0.4);
      expect(found!.frequencyHz).toBeCloseTo(Number(saidHz), -1);
    }
  });

  it('is told from noise where the recording has no silence to take it from', () => {
    const trimmed = (recording: Float64Array) => recording.slice(0.5 * rate - 200, 5.2 * rate);
    const seen = (recording: Float64Array) =>
      result(trimmed(recording)).warnings.some(({ code }) => code === 'sweep-broken');
    for (const hiss of [0.02, 0.04]) expect(seen(heard(undefined, undefined, hiss))).toBe(false);
    for (const hz of [300, 1000]) {
      const at = Math.round(passes(hz) * rate);
      expect(seen(cuts['samples set to zero']!(heardClean, at, 0.02 * rate))).toBe(true);
    }
  });

  it('is not seen in noise, in a speaker that distorts in a room that rings, nor in a sweep of a second', () => {
    const seen = (recording: Float64Array, sweep = told) =>
      result(recording, {}, sweep).warnings.filter(({ code }) => code === 'sweep-broken');
    expect(seen(heard(undefined, undefined, 0.01))).toEqual([]);
    for (const durationS of [1, 4]) {
      const sweep = sweepParameters({ durationS });
      const bent = sweepSignal(sweep).map((v) => v + 0.4 * v * v - v ** 3);
      const dry = filtered(system, bent);
      const signs = noise(200, 8);
      const ringing = dry.slice();
      for (let echo = 1; echo < 200; echo++) {
        const size = 0.2 * signs[echo]! * 10 ** ((-3 * echo) / 200);
        for (let n = echo * 170; n < ringing.length; n++)
          ringing[n] = ringing[n]! + size * dry[n - echo * 170]!;
      }
      const random = noise(ringing.length, 6);
      expect(
        seen(
          ringing.map((v, n) => v + quiet * random[n]!),
          sweep,
        ),
      ).toEqual([]);
    }
  });
});

describe('another sweep than was told of', () => {
  const shorter = 'sweep-does-not-match';

  it.each([
    [3.98, /0\.5 % longer/],
    [4.02, /0\.5 % shorter/],
    [2, /100 % longer/],
    [6, /33 % shorter/],
  ])('is seen where %f s were told of and 4 s recorded', (durationS, share) => {
    const recording = heard({ durationS: 4, silenceBeforeS: 3, silenceAfterS: 4 });
    const { warnings } = result(recording, {}, sweepParameters({ durationS }));
    expect(warnings.map(({ code }) => code)).toContain(shorter);
    const said = warnings.find(({ code }) => code === shorter)!.message;
    const percent = Number(/about ([\d.]+) %/.exec(said)![1]);
    const expected = Number(share.source.match(/^[\d\\.]+/)![0].replace('\\', ''));
    expect(Math.abs(percent / expected - 1)).toBeLessThan(0.1);
    expect(said).toContain(share.source.endsWith('longer') ? 'longer' : 'shorter');
  });

  it('is not seen in a crossover that is late below 300 Hz', () => {
    // Second-order all-pass, as of two fourth-order halves: 1.5 ms late below, nothing above.
    const [w, q] = [(2 * Math.PI * 300) / rate, Math.SQRT1_2];
    const alpha = Math.sin(w) / (2 * q);
    const a0 = 1 + alpha;
    const [a1, a2] = [(-2 * Math.cos(w)) / a0, (1 - alpha) / a0];
    const late = filtered([{ b0: a2, b1: a1, b2: 1, a1, a2 }], heardClean);
    expect(codes(late)).toEqual([]);
  });

  it('that began before the recording did is refused, as one that breaks off is', () => {
    const late = heardClean.slice(1.5 * rate);
    expect(() => result(late)).toThrow(InputError);
    expect(() => result(late)).toThrow(
      /beginning of the sweep is missing: .* started 1 s before the recording/,
    );
    expect(codes(heardClean.slice(0.5 * rate))).toEqual([]);
  });

  it('that is not there at all is not called late, nor broken off', () => {
    const said = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10].flatMap((seed) => {
      try {
        result(noise(5 * told.sampleRateHz, seed).map((v) => 0.01 * v));
        return [];
      } catch (error) {
        return [(error as Error).message];
      }
    });
    expect(said.length).toBeGreaterThan(5);
    for (const message of said) expect(message).toMatch(/^found no sweep in the recording/);
  });
});

describe('a speaker that is driven too hard', () => {
  /** A wire that bends: x + a₃x³. */
  const bent = (a3: number) => {
    const parameters = sweepParameters({ durationS: 4, toHz: 8000 });
    const played = sweepSignal(parameters).map((v) => v + a3 * v ** 3);
    const random = noise(played.length, 5);
    return result(
      played.map((v, n) => v + quiet * random[n]!),
      {},
      parameters,
    ).warnings;
  };

  it('is warned of from a tenth of the tone on, and not at a hundredth', () => {
    const power = 10 ** (-12 / 10);
    // sin³ in multiple angles: a₃A²/4 over 1 + (3/4)·a₃A².
    for (const a3 of [-8, -5]) {
      const share = Math.abs((a3 * power) / 4 / (1 + 0.75 * a3 * power));
      const [warning, ...others] = bent(a3);
      expect(others).toEqual([]);
      expect(warning!.code).toBe('driven-too-hard');
      const percent = Number(/Harmonic 3 reaches (\d+) %/.exec(warning!.message)![1]);
      expect(Math.abs(percent - 100 * share)).toBeLessThan(1);
    }
    expect(bent(-0.5)).toEqual([]);
  });

  it('is not said of a recording that clips: that makes harmonics by itself', () => {
    const clipped = heardClean.map((v) => Math.max(-0.1, Math.min(0.1, v)));
    expect(codes(clipped)).toEqual(['recording-clipped']);
  });
});
