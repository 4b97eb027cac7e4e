import { beforeEach, describe, expect, it, vi } from 'vitest';

const loads = vi.hoisted(() => ({ ofMathjs: 0 }));
vi.mock('mathjs', async (original) => {
  loads.ofMathjs += 1;
  return await original();
});

/** The program as it is when it starts, with no engine loaded. */
async function fresh() {
  vi.resetModules();
  return {
    ...(await import('../../src/units/parseLengthM.js')),
    ...(await import('../../src/units/parseMeasuredLength.js')),
    ...(await import('../../src/units/parseFrequencyHz.js')),
    ...(await import('../../src/units/parseTemperatureC.js')),
    ...(await import('../../src/units/parseGainDb.js')),
    ...(await import('../../src/units/unitEngine.js')),
    ...(await import('../../src/units/unitEngineNeeded.js')),
    ...(await import('../../src/units/withUnitEngine.js')),
    ...(await import('../../src/inputError.js')),
    ...(await import('../../src/schema/setup.js')),
    ...(await import('../../src/schema/designOptions.js')),
  };
}

let units: Awaited<ReturnType<typeof fresh>>;
beforeEach(async () => {
  units = await fresh();
  loads.ofMathjs = 0;
});

const thrownBy = (work: () => unknown): unknown => {
  try {
    work();
  } catch (error) {
    return error;
  }
  throw new Error('nothing was thrown');
};

describe('without the unit engine', () => {
  it('common spellings are read, and mathjs stays unloaded', () => {
    expect(units.parseLengthM('14 in', 'x')).toBeCloseTo(0.3556, 12);
    expect(units.parseLengthM(`4' 6"`, 'x')).toBeCloseTo(1.3716, 12);
    expect(units.parseFrequencyHz('0.08 kHz', 'x')).toBeCloseTo(80, 9);
    expect(units.parseTemperatureC('293.15 kelvin', 'x')).toBeCloseTo(20, 9);
    expect(units.parseMeasuredLength('29 ± 2 cm', 'x').toleranceM).toBeCloseTo(0.02, 12);
    expect(units.unitEngine()).toBeUndefined();
    expect(loads.ofMathjs).toBe(0);
  });

  it.each(['5 ft + 3 in', '2 * 14 in', '500 mil', '343 m/s / 4 / 300 Hz', '5 blorps'])(
    'what the tables lack asks for the engine, with the text: %j',
    (text) => {
      const error = thrownBy(() => units.parseLengthM(text, 'x'));
      expect(error).toBeInstanceOf(units.UnitEngineNeeded);
      expect(error).not.toBeInstanceOf(units.InputError);
      expect(error).toMatchObject({ text });
    },
  );

  it.each(['', 'warm', 'cm', 'NaN', '80 Hz', '1,000 mm', '[1] m', '1/0 m', '-3 cm', '1 m + '.repeat(30)])(
    'what no engine could read as a length is refused at once: %j',
    (text) => {
      expect(thrownBy(() => units.parseLengthM(text, 'x'))).toBeInstanceOf(units.InputError);
    },
  );

  it('a gain never asks for it', () => {
    expect(thrownBy(() => units.parseGainDb('3 + 3', 'x'))).toBeInstanceOf(units.InputError);
  });

  it('schemas let the question through instead of listing it as a problem', () => {
    const setup = '{ "temperature": "warm", "microphoneDistance": "5 ft + 3 in", "baffleWidth": "1 blorp" }';
    expect(thrownBy(() => units.readSetup(setup, 'setup.json'))).toBeInstanceOf(units.UnitEngineNeeded);
    const options = () => units.readDesignOptions({ from: '343 m/s / 4 m' }, 'options', (field) => field);
    expect(thrownBy(options)).toBeInstanceOf(units.UnitEngineNeeded);
  });
});

describe('withUnitEngine', () => {
  it('does work that needs no engine once, and loads none', async () => {
    const work = vi.fn(() => units.parseLengthM('14 in', 'x'));
    expect(await units.withUnitEngine(work)).toBeCloseTo(0.3556, 12);
    expect(work).toHaveBeenCalledTimes(1);
    expect(loads.ofMathjs).toBe(0);
  });

  it('loads the engine where it is needed and does the work once more', async () => {
    const work = vi.fn(async () => units.parseLengthM('5 ft + 3 in', 'x'));
    expect(await units.withUnitEngine(work)).toBeCloseTo(1.6002, 12);
    expect(work).toHaveBeenCalledTimes(2);
    expect(loads.ofMathjs).toBe(1);
    expect(units.parseLengthM('2 * 14 in', 'x')).toBeCloseTo(0.7112, 12);
  });

  it('then refuses what nobody can read, every problem together', async () => {
    const text = '{ "temperature": "warm", "microphoneDistance": "5 ft + 3 in", "baffleWidth": "1 blorp" }';
    await expect(units.withUnitEngine(() => units.readSetup(text, 'setup.json'))).rejects.toThrow(
      /^setup\.json: 2 problems\n.*temperature: found "warm".*\n.*baffleWidth: found "1 blorp", expected.*no unit "blorp"/,
    );
  });

  it('lets every other error through after one try', async () => {
    const work = vi.fn(() => {
      throw new TypeError('ours');
    });
    await expect(units.withUnitEngine(work)).rejects.toThrow(TypeError);
    expect(work).toHaveBeenCalledTimes(1);
  });
});
