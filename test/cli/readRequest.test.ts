import { afterAll, describe, expect, test } from 'vitest';
import { addDesignOptions, addMeasuredOptions } from '../../cli/options.js';
import { createProgram } from '../../cli/program.js';
import { type Flags, inputPaths, readDesignRequest } from '../../cli/readRequest.js';
import type { DesignRequest } from '../../src/pipeline/designRequest.js';
import { curveText } from './curveText.js';
import { workFolder } from './workFolder.js';

const work = workFolder({
  'room.txt': curveText(),
  'left.txt': curveText({ offsetDb: 1 }),
  'target.json':
    '{ "breakpoints": [ { "frequency": "100 Hz", "level": "4 dB" }, { "frequency": "1 kHz", "level": 0 } ] }',
  'target.txt': '# house curve\n1000 0\n100 4\n',
  'microphone.txt': '20 1\n1000 0\n20000 -1\n',
  'setup.json': '{ "microphoneDistance": "40 in", "temperature": "68 degF" }',
});
afterAll(work.remove);

/** What a command line becomes, read in the way of `fit`, without the fit. */
function flagsOf(args: readonly string[]): Flags {
  const command = createProgram().command('read');
  return addDesignOptions(addMeasuredOptions(command)).parse(args, { from: 'user' }).opts();
}

function requestOf(files: readonly string[], ...args: string[]): DesignRequest {
  return readDesignRequest(
    files.map((name) => work.path(name)),
    flagsOf(args),
  );
}

describe('readDesignRequest', () => {
  test('without options holds the defaults, a flat target and a range yet to be found', () => {
    expect(requestOf(['room.txt'])).toMatchObject({
      title: 'room.txt (simulated)',
      target: { bassShelfFrequencyHz: 120 },
      bands: 8,
      maxBoostDb: 6,
      maxCutDb: 12,
      maxLevelLossDb: 3,
      minQ: 0.4,
      maxQ: 10,
      sampleRateHz: 48000,
      smoothingOctaves: 1 / 12,
      seed: 1,
    });
    for (const absent of ['setup', 'calibration', 'moved', 'levelDb', 'fromHz', 'toHz', 'maxShelfQ']) {
      expect(requestOf(['room.txt'])).not.toHaveProperty(absent);
    }
  });

  test('takes every number where it belongs, negative and with units', () => {
    const args = [
      ...['--level', '-3 dB', '--tilt', '-0.8', '--bass-shelf', '-2dB', '--bass-shelf-frequency', '90 Hz'],
      ...['--from', '0.1 kHz', '--to', '8k', '--bands', '5', '--max-boost', '2', '--max-cut', '4 dB'],
      ...['--max-level-loss', '1.5', '--q-min', '0.5', '--q-max', '7', '--shelf-q-max', '0.8'],
      ...['--sample-rate', '44.1 kHz'],
      ...['--smoothing', '1/6', '--seed', '9', '--title', 'A name'],
    ];
    expect(requestOf(['room.txt'], ...args)).toMatchObject({
      title: 'A name',
      levelDb: -3,
      target: { tiltDbPerOctave: -0.8, bassShelfDb: -2, bassShelfFrequencyHz: 90 },
      fromHz: 100,
      toHz: 8000,
      bands: 5,
      maxBoostDb: 2,
      maxCutDb: 4,
      maxLevelLossDb: 1.5,
      minQ: 0.5,
      maxQ: 7,
      maxShelfQ: 0.8,
      sampleRateHz: 44100,
      smoothingOctaves: 1 / 6,
      seed: 9,
    });
  });

  test('wants the gain of a bass shelf whose frequency is given', () => {
    const alone = () => requestOf(['room.txt'], '--bass-shelf-frequency', '90 Hz');
    expect(alone).toThrow('--bass-shelf-frequency: found without --bass-shelf, expected the gain');
    expect(requestOf(['room.txt'], '--bass-shelf', '0', '--bass-shelf-frequency', '90 Hz').target).toEqual({
      bassShelfDb: 0,
      bassShelfFrequencyHz: 90,
    });
  });

  test('takes a negative value after an equals sign too', () => {
    expect(requestOf(['room.txt'], '--tilt=-0.8', '--level=-3 dB')).toMatchObject({
      levelDb: -3,
      target: { tiltDbPerOctave: -0.8 },
    });
  });

  test('reads a target in JSON and in two columns to the same curve', () => {
    const json = requestOf(['room.txt'], '--target', work.path('target.json')).target.breakpoints;
    const text = requestOf(['room.txt'], '--target', work.path('target.txt')).target.breakpoints;
    expect([...json!.frequencyHz]).toEqual([100, 1000]);
    expect([...json!.levelDb]).toEqual([4, 0]);
    expect(text).toEqual(json);
    expect(requestOf(['room.txt'], '--target', 'flat').target).not.toHaveProperty('breakpoints');
  });

  test('reads positions, other placements, calibration and set-up', () => {
    const request = requestOf(
      ['room.txt', 'left.txt'],
      ...['--moved', work.path('left.txt'), '--moved', work.path('room.txt')],
      ...['--calibration', work.path('microphone.txt'), '--setup', work.path('setup.json')],
    );
    expect(request.title).toBe('room.txt, left.txt (simulated)');
    expect(request.measurements.map(({ fileName }) => fileName)).toEqual([
      work.path('room.txt'),
      work.path('left.txt'),
    ]);
    expect(request.moved?.map(({ fileName }) => fileName)).toEqual([
      work.path('left.txt'),
      work.path('room.txt'),
    ]);
    expect([...request.calibration!.levelDb]).toEqual([1, 0, -1]);
    expect(request.calibrationName).toBe('microphone.txt');
    expect(request.setup?.microphoneDistance.m).toBeCloseTo(1.016, 9);
    expect(request.setup?.lengthUnit).toBe('in');
  });
});

test('inputPaths names every file that is read, so that none is overwritten', () => {
  const flags = flagsOf([
    '--moved',
    'm1',
    '--moved',
    'm2',
    '--setup',
    's',
    '--calibration',
    'c',
    '--target',
    't',
  ]);
  expect(inputPaths(['a', 'b'], flags).sort()).toEqual(['a', 'b', 'c', 'm1', 'm2', 's', 't']);
});
