import { renderToString } from 'preact-render-to-string';
import { describe, expect, test } from 'vitest';
import type { Setup } from '../../../src/acoustics/setup.js';
import { formatFrequency } from '../../../src/units/formatFrequency.js';
import { correctedSetup } from '../../../web/placement/CorrectDistances.js';
import { moveSpeaker } from '../../../web/placement/moveSpeaker.js';
import { PlacementPlan } from '../../../web/placement/PlacementPlan.js';
import { predictSurfaces } from '../../../web/placement/predictSurfaces.js';
import { readLength } from '../../../web/placement/readLength.js';
import { roomSetup } from './roomSetup.js';

const setup = roomSetup({ x: 0.26, y: 1.15, z: 0.9 }, { x: 1.25, y: 1.27, z: 1 }, { x: 4, y: 3, z: 2.4 }, [
  'wall behind',
  'left wall',
  'floor',
]);
const HOSTILE = '</text><script>window.hit=1</script><img src=x onerror="hit=1">';

const html = (props: Partial<Parameters<typeof PlacementPlan>[0]> = {}) =>
  renderToString(<PlacementPlan setup={setup} onChange={() => {}} {...props} />);

const named = (name: string): Setup => ({
  ...setup,
  surfaces: setup.surfaces.map((surface, i) => (i === 1 ? { ...surface, name } : surface)),
});

describe('the plan', () => {
  test('tells every surface, its distance and where it cancels', () => {
    const text = html();
    for (const { name, dips } of predictSurfaces(setup)) {
      const [first] = dips;
      expect(text).toContain(`<h4`);
      expect(text).toContain(name);
      expect(text).toContain(`<strong>${formatFrequency(first!.expectedHz)}</strong>`);
    }
    expect(text).toContain('value="26"');
    expect(text).toMatch(
      /The speaker stands 26 cm from wall behind, 115 cm from left wall, 90 cm from floor/,
    );
  });

  test('offers the speaker as a slider in both views, with its place in words', () => {
    const sliders = html().match(/role="slider"[^>]*>/g) ?? [];
    expect(sliders).toHaveLength(2);
    expect(sliders[0]).toContain('aria-valuetext="115 cm from left wall, 26 cm from wall behind"');
    expect(sliders[1]).toContain('aria-valuetext="26 cm from wall behind, 90 cm from floor"');
    for (const slider of sliders) expect(slider).toMatch(/tabindex="0".*aria-valuenow="\d/);
  });

  test('shows hostile names as text', () => {
    const text = html({ setup: named(HOSTILE), highlighted: HOSTILE });
    expect(text).not.toContain('<script');
    expect(text).not.toContain('<img');
    expect(text).toContain('&lt;script>');
  });

  test('shows where the speaker was measured once it stands elsewhere', () => {
    const moved = moveSpeaker(setup, { x: 0.2 }, 'stays');
    const text = html({ setup: moved, measuredAt: setup });
    expect(text).toContain('box ghost');
    expect(text).toContain('Put it back where it was measured');
    expect(text).toContain(`was ${formatFrequency(predictSurfaces(setup)[0]!.dips[0]!.expectedHz)}`);
    expect(html({ measuredAt: setup })).not.toContain('box ghost');
  });

  test('warns of distances that contradict each other', () => {
    const [first, ...rest] = setup.surfaces;
    const wrong = {
      ...setup,
      surfaces: [{ ...first!, microphoneDistance: { m: 3, toleranceM: 0 } }, ...rest],
    };
    expect(html({ setup: wrong })).toMatch(
      /class="placement-warning">Speaker and microphone are 100.2 cm apart/,
    );
  });

  test('says what is missing where the set-up names no surfaces', () => {
    const text = html({ setup: { ...setup, surfaces: [] } });
    expect(text).toContain('names no surfaces');
    expect(text).not.toContain('role="slider"');
  });

  test('brings the highlighted surface forward in drawing, strip and cards, and shows what it is given', () => {
    const text = html({ highlighted: 'floor', onHighlight: () => {}, whatIf: <p>the curve</p> });
    expect(text.match(/highlighted"/g)?.length).toBeGreaterThanOrEqual(4);
    expect(text.match(/aria-pressed="true"/g)).toHaveLength(1);
    expect(text).toContain('<div class="placement-what-if"><p>the curve</p></div>');
  });
});

describe('a typed length', () => {
  test.each([
    ['29', 'cm', 0.29, 0],
    ['11.5', 'in', 0.2921, 0],
    ['29 ± 1', 'cm', 0.29, 0.01],
    ['1 ft', 'cm', 0.3048, 0],
    ['0.3 m', 'in', 0.3, 0],
  ] as const)('"%s" in %s is %f m ± %f m', async (text, unit, m, toleranceM) => {
    const read = await readLength(text, unit, 'Speaker');
    expect('length' in read && read.length.m).toBeCloseTo(m, 9);
    expect('length' in read && read.length.toleranceM).toBeCloseTo(toleranceM, 9);
  });

  test.each(['', 'far', '-3', '60 m', '3 kHz', '6000'])('"%s" is refused in words', async (text) => {
    const read = await readLength(text, 'cm', 'Speaker');
    expect('problem' in read && read.problem).toMatch(/^Speaker: found .*, .*expected/);
  });
});

describe('corrected distances', () => {
  const fields = (changes: Record<string, string>) => (field: string) => {
    const [which, i] = field.split(' ');
    const surface = setup.surfaces[Number(i)];
    const m =
      which === 'speaker'
        ? surface!.speakerDistance.m
        : which === 'microphone'
          ? surface!.microphoneDistance.m
          : setup.microphoneDistance.m;
    return changes[field] ?? String(Math.round(m * 1000) / 10);
  };

  test('change what was typed and nothing else', async () => {
    const read = await correctedSetup(setup, fields({ 'microphone 1': '1.3 m', 'speaker 0': '27 ± 2' }));
    const [first, second, third] = 'setup' in read ? read.setup.surfaces : [];
    expect(first!.speakerDistance).toEqual({ m: 0.27, toleranceM: 0.02 });
    expect(first!.microphoneDistance).toBe(setup.surfaces[0]!.microphoneDistance);
    expect(second!.microphoneDistance.m).toBe(1.3);
    expect(third).toEqual(setup.surfaces[2]);
    expect('setup' in read && read.setup.microphoneDistance).toBe(setup.microphoneDistance);
  });

  test('are refused together, each with its field', async () => {
    const read = await correctedSetup(setup, fields({ 'microphone 1': 'x', straight: '0' }));
    expect('problems' in read && read.problems).toEqual([
      expect.stringMatching(/^Microphone from left wall: found "x"/),
      expect.stringMatching(/^Straight from speaker to microphone: found "0", expected more than 0/),
    ]);
  });
});
