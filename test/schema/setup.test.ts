import { beforeAll, describe, expect, test } from 'vitest';
import { InputError } from '../../src/inputError.js';
import { readSetup } from '../../src/schema/setup.js';
import { loadUnitEngine } from '../../src/units/unitEngine.js';

beforeAll(loadUnitEngine);

const complete = `{ "temperature": "68 degF", "microphoneDistance": "1 m ± 1 cm", "baffleWidth": "17 cm",
  "surfaces": [
    { "name": "wall behind", "speakerDistance": "29 cm ± 2 cm", "microphoneDistance": "129 cm" },
    { "name": "desk", "speakerDistance": "18 cm", "microphoneDistance": 0.3 } ],
  "room": { "length": "4.2 m", "width": "3.1 m", "height": "2.4 m" } }`;

function refusalOf(text: string): string {
  try {
    readSetup(text, 'setup.json');
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    return (error as InputError).message;
  }
  throw new Error('not refused');
}

describe('readSetup', () => {
  test('turns every quantity into SI units and keeps tolerances', () => {
    const setup = readSetup(complete, 'setup.json');
    expect(setup.temperatureC).toBeCloseTo(20, 9);
    expect(setup.microphoneDistance.toleranceM).toBeCloseTo(0.01, 9);
    expect(setup.baffleWidthM).toBeCloseTo(0.17, 9);
    expect(setup.surfaces.map(({ name }) => name)).toEqual(['wall behind', 'desk']);
    expect(setup.surfaces[0]?.speakerDistance.m).toBeCloseTo(0.29, 9);
    expect(setup.surfaces[0]?.speakerDistance.toleranceM).toBeCloseTo(0.02, 9);
    expect(setup.surfaces[1]?.microphoneDistance).toEqual({ m: 0.3, toleranceM: 0 });
    expect(setup.room).toEqual({ lengthM: 4.2, widthM: 3.1, heightM: 2.4 });
    expect(setup.lengthUnit).toBe('cm');
  });

  test('needs nothing but the distance of the microphone; the air is at 20 degrees then', () => {
    const setup = readSetup('{ "microphoneDistance": "40 in" }', 'setup.json');
    expect(setup.microphoneDistance.m).toBeCloseTo(1.016, 9);
    expect(setup).toMatchObject({ temperatureC: 20, surfaces: [], lengthUnit: 'in' });
    expect('baffleWidthM' in setup || 'room' in setup).toBe(false);
  });

  test('refuses an unknown key with its line and the key that was probably meant', () => {
    const text = complete.replace('"speakerDistance": "18 cm"', '"speakerDistanse": "18 cm"');
    expect(refusalOf(text)).toContain(
      'line 4: surfaces[1]: unknown key "speakerDistanse" (did you mean "speakerDistance"?)',
    );
  });

  test('reports all problems together, each with line and path, in the order of the file', () => {
    const text = complete
      .replace('68 degF', 'warm')
      .replace('29 cm ± 2 cm', '29 furlongs')
      .replace('"4.2 m"', '42000');
    const lines = refusalOf(text).split('\n');
    expect(lines).toHaveLength(4);
    expect(lines[0]).toBe('setup.json: 3 problems');
    expect(lines[1]).toMatch(/^ {2}line 1: temperature: found "warm", expected a temperature/);
    expect(lines[2]).toMatch(
      /^ {2}line 3: surfaces\[0\]\.speakerDistance: found "29 furlongs", expected a length/,
    );
    expect(lines[3]).toMatch(/^ {2}line 5: room\.length: found 42000, expected 0\.5 m to 200 m/);
  });

  test('takes 29 without a unit for a slip: nobody measures at 29 m with a baffle 17 m wide', () => {
    expect(refusalOf('{ "microphoneDistance": "1 m", "baffleWidth": 17 }')).toContain(
      'baffleWidth: found 17, expected 1 cm to 3 m (a length without a unit is in metres)',
    );
    expect(refusalOf('{ "microphoneDistance": 100 }')).toContain('a length without a unit is in metres');
  });

  test('refuses two surfaces of one name, since findings name them', () => {
    expect(refusalOf(complete.replace('"desk"', '"wall behind"'))).toBe(
      'setup.json line 4: surfaces[1].name: found "wall behind", which surfaces[0] is called already; expected a name of its own',
    );
  });

  test.each([
    ['[]', 'expected a set-up, an object with temperature, microphoneDistance'],
    ['{}', 'microphoneDistance: found nothing, expected the distance straight from the speaker'],
    ['{ "microphoneDistance": "0 m" }', 'microphoneDistance: found "0 m", expected more than 0'],
    ['{ "microphoneDistance": "-1 m" }', 'microphoneDistance: found "-1 m"'],
    ['{ "microphoneDistance": "1 m", "surfaces": {} }', 'surfaces: found an object {…}, expected a list'],
    ['{ "microphoneDistance": null }', 'microphoneDistance: found null, expected'],
  ])('refuses %s', (text, message) => {
    expect(refusalOf(text)).toContain(message);
  });
});
