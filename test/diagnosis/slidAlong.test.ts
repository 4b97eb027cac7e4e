import { describe, expect, test } from 'vitest';
import type { Setup } from '../../src/acoustics/setup.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { diagnose } from '../../src/diagnosis/diagnose.js';
import { stayedCombs } from '../../src/diagnosis/paths/stayedCombs.js';
import { heightsOf } from '../../src/diagnosis/scene/scene.js';
import type { Finding } from '../../src/diagnosis/verdict/finding.js';
import { seededRandom } from '../../src/fit/seededRandom.js';

const C = 343.2;
const AWAY_M = 0.9;
const frequencyHz = logGrid(20, 20000);
const range = { fromHz: 60, toHz: 18000 };

interface Surface {
  readonly strength: number;
  readonly dullHz: number;
  /** Of the speaker and of the microphone from the plane. */
  readonly hs: number;
  readonly hm: number;
}
interface Own {
  readonly hz: number;
  readonly db: number;
  readonly q: number;
}

const desk = (hs: number, hm: number): Surface => ({ strength: 0.8, dullHz: 9000, hs, hm });
const wall = (m: number): Surface => ({ strength: 0.5, dullHz: 500, hs: m, hm: m + AWAY_M });
const side = (m: number): Surface => ({ strength: 0.5, dullHz: 500, hs: m, hm: m });
const differenceM = ({ hs, hm }: Surface) => Math.sqrt(AWAY_M ** 2 + 4 * hs * hm) - AWAY_M;
const nullHz = (surface: Surface) => C / (2 * differenceM(surface));

/** Cookbook peaking of the speaker's own (as an analogue section), and planes by image source (Allen and Berkley 1979). */
function measured(own: readonly Own[], surfaces: readonly Surface[], seed: number) {
  const random = seededRandom(seed);
  const levelDb = frequencyHz.map((hz) => {
    let re = 1;
    let im = 0;
    for (const surface of surfaces) {
      const more = differenceM(surface);
      const size = (surface.strength * AWAY_M) / (AWAY_M + more) / Math.sqrt(1 + (hz / surface.dullHz) ** 2);
      re += size * Math.cos((2 * Math.PI * hz * more) / C);
      im -= size * Math.sin((2 * Math.PI * hz * more) / C);
    }
    const ownDb = own.reduce((sum, { hz: at, db, q }) => {
      const a = 10 ** (db / 40);
      const x = hz / at;
      return sum + 20 * Math.log10(Math.hypot(1 - x * x, (x * a) / q) / Math.hypot(1 - x * x, x / (a * q)));
    }, 0);
    return 85 + ownDb + 20 * Math.log10(Math.hypot(re, im) + 0.01) + 0.3 * (random() - 0.5);
  });
  return { frequencyHz, levelDb };
}

const octave = frequencyHz.map((f) => Math.log2(f));
const smooth = (curve: { readonly levelDb: Float64Array }) => heightsOf(octave, curve.levelDb).levelDb;
const combsOf = (curves: readonly { readonly levelDb: Float64Array }[]) =>
  stayedCombs(frequencyHz, curves.map(smooth), range, C).map((comb) => comb.differenceM);
const dipNear = (findings: readonly Finding[], hz: number) =>
  findings.find((f) => f.kind === 'dip' && Math.abs(Math.log2(f.frequencyHz / hz)) < 0.12);

const uneven: readonly Own[] = [
  { hz: 180, db: 2.5, q: 1 },
  { hz: 1250, db: -3, q: 1.5 },
  { hz: 6200, db: 3, q: 3 },
];
const desks = [desk(0.14, 0.18), desk(0.17, 0.22), desk(0.22, 0.32), desk(0.25, 0.36)];

describe('the comb of a surface that the speaker was slid along', () => {
  test.each(desks)('is found where speaker $hs and microphone $hm stay over it', (board) => {
    const [found] = combsOf([
      measured(uneven, [board, wall(0.3), side(0.8)], 1),
      measured(uneven, [board, wall(0.5), side(0.65)], 2),
    ]);
    expect(Math.abs(Math.log(found! / differenceM(board)))).toBeLessThan(0.25);
  });

  test.each(desks)('is not one where the speaker was lifted by 12 cm ($hs, $hm)', (board) => {
    const { hs, hm } = board;
    const lifted = desk(hs + 0.12, hm + 0.12);
    expect(
      combsOf([
        measured(uneven, [board, wall(0.3), side(0.8)], 1),
        measured(uneven, [lifted, wall(0.5), side(0.65)], 2),
      ]),
    ).toEqual([]);
  });

  test('is not made of a speaker’s own dips, which stay as well', () => {
    const random = seededRandom(11);
    const between = (a: number, b: number) => a + (b - a) * random();
    for (let k = 0; k < 12; k++) {
      const own = Array.from({ length: 5 }, () => ({
        hz: 200 * 2 ** between(0, 5.3),
        db: between(-8, 4),
        q: 1.5 * 2 ** between(0, 2.5),
      }));
      expect(
        combsOf([measured(own, [wall(0.3)], k), measured(own, [wall(0.45)], k + 50)]),
        JSON.stringify(own),
      ).toEqual([]);
    }
  });
});

describe('a dip that stays when the speaker is slid along a desk', () => {
  const slid = (own: readonly Own[], board: Surface) => ({
    curve: measured(own, [board, wall(0.3), side(0.8)], 3),
    moved: [
      measured(own, [board, wall(0.5), side(0.65)], 4),
      measured(own, [board, wall(0.42), side(0.95)], 5),
    ],
    range,
  });

  test.each(desks.slice(0, 3))('is not called the speaker’s, with no set-up ($hs, $hm)', (board) => {
    const finding = dipNear(diagnose(slid(uneven, board)).findings, nullHz(board))!;
    expect(finding.cause.type).toBe('reflection');
    expect(finding.verdict).not.toBe('equalize');
    expect(finding.evidence.join(' ')).toMatch(/the whole comb of a reflection about .* moved along/);
  });

  test('is laid to that desk of the set-up', () => {
    const board = desks[2]!;
    const length = (m: number) => ({ m, toleranceM: 0 });
    const surface = (name: string, { hs, hm }: Surface) => ({
      name,
      speakerDistance: length(hs * 1.03),
      microphoneDistance: length(hm * 0.98),
    });
    const setup: Setup = {
      temperatureC: 20,
      microphoneDistance: length(AWAY_M),
      lengthUnit: 'cm',
      surfaces: [surface('side wall', side(0.8)), surface('wall behind', wall(0.3)), surface('table', board)],
    };
    const { findings } = diagnose({ ...slid(uneven, board), setup });
    const finding = dipNear(findings, nullHz(board))!;
    expect(finding.cause).toMatchObject({ type: 'reflection', surface: 'table' });
    expect(finding.evidence.join(' ')).toMatch(/moved along "table"/);
  });

  test('is still the speaker’s where the desk’s comb has none, and where no comb stayed', () => {
    const board = desks[0]!;
    // Below the first null, where the desk neither adds much nor takes away.
    const notch: Own = { hz: nullHz(board) / 2.2, db: -7, q: 2.5 };
    const own = [...uneven, notch];
    const along = dipNear(diagnose(slid(own, board)).findings, notch.hz)!;
    expect(along.cause.type).toBe('speaker');
    const away = {
      curve: measured(own, [wall(0.3), side(0.8)], 6),
      moved: [measured(own, [wall(0.5), side(0.65)], 7), measured(own, [wall(0.42), side(0.95)], 8)],
      range,
    };
    expect(dipNear(diagnose(away).findings, notch.hz)!.cause.type).toBe('speaker');
  });
});
