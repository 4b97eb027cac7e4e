/** Continuous-time test systems in closed form, as complex [re, im]. */
export type Complex = readonly [number, number];

export const times = (a: Complex, b: Complex): Complex => [
  a[0] * b[0] - a[1] * b[1],
  a[0] * b[1] + a[1] * b[0],
];

export const over = (a: Complex, b: Complex): Complex => {
  const d = b[0] ** 2 + b[1] ** 2;
  return [(a[0] * b[0] + a[1] * b[1]) / d, (a[1] * b[0] - a[0] * b[1]) / d];
};

type Quadratic = readonly [number, number, number];

/** (n₀ + n₁·s + n₂·s²)/(d₀ + d₁·s + d₂·s²) at s = i·f/f₀. */
export const quadratic =
  (f0: number, n: Quadratic, d: Quadratic) =>
  (f: number): Complex => {
    const w = f / f0;
    return over([n[0] - n[2] * w * w, n[1] * w], [d[0] - d[2] * w * w, d[1] * w]);
  };

export const peak = (f0: number, gainDb: number, q: number) => {
  const A = 10 ** (gainDb / 40);
  return quadratic(f0, [1, A / q, 1], [1, 1 / (A * q), 1]);
};

/** Direct sound plus one path of `ratio` that comes `delayS` later. */
export const echo =
  (ratio: number, delayS: number) =>
  (f: number): Complex => {
    const angle = -2 * Math.PI * f * delayS;
    return [1 + ratio * Math.cos(angle), ratio * Math.sin(angle)];
  };

export const secondOrderAllPass = (f0: number, q: number) => quadratic(f0, [1, -1 / q, 1], [1, 1 / q, 1]);

/** A small vented speaker: falls 24 dB an octave below 55 Hz, two resonances, a gentle end of the treble. */
export const ventedSpeaker = (f: number): Complex =>
  [
    quadratic(55, [0, 0, 1], [1, 1.41, 1]),
    quadratic(55, [0, 0, 1], [1, 0.9, 1]),
    quadratic(22_000, [1, 0, 0], [1, 1.4, 1]),
    peak(300, 6, 4),
    peak(2000, -6, 2),
  ].reduce<Complex>((h, part) => times(h, part(f)), [1, 0]);

export interface Sampled {
  readonly frequencyHz: Float64Array;
  readonly levelDb: Float64Array;
  readonly phaseRad: Float64Array;
}

/** Level and unwrapped phase at `frequencyHz`; between its points the phase is followed in small steps. */
export function sample(system: (f: number) => Complex, frequencyHz: Float64Array, delayS = 0): Sampled {
  const angle = (f: number) => {
    const [re, im] = system(f);
    return Math.atan2(im, re);
  };
  let at = frequencyHz[0]! / 1000;
  let wrapped = angle(at);
  let phase = wrapped;
  const phaseRad = frequencyHz.map((f) => {
    const start = at;
    const steps = Math.ceil(2 + 4000 * Math.log2(f / start));
    for (let k = 1; k <= steps; k++) {
      at = start * (f / start) ** (k / steps);
      const next = angle(at);
      const change = next - wrapped;
      phase += change - 2 * Math.PI * Math.round(change / (2 * Math.PI));
      wrapped = next;
    }
    return phase - 2 * Math.PI * f * delayS;
  });
  const levelDb = frequencyHz.map((f) => 20 * Math.log10(Math.hypot(...system(f))));
  return { frequencyHz, levelDb, phaseRad };
}
