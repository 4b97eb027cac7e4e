import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { packageRoot } from '../../cli/io/packageRoot.js';
import { diagnosisSchema } from '../../src/schema/diagnosis.js';
import { curveText } from './curveText.js';
import { manyRuns } from './manyRuns.js';
import { workFolder } from './workFolder.js';

const { run: nullwise, end } = manyRuns();
afterAll(end);

const demo = (name: string) => join(packageRoot(), 'fixtures', 'demo', name);
const wallAt = (speakerDistance: string) =>
  JSON.stringify({
    microphoneDistance: '1 m',
    surfaces: [{ name: 'wall behind', speakerDistance, microphoneDistance: '129 cm' }],
  });
const work = workFolder({
  'room.txt': curveText(),
  'setup.json': wallAt('29 cm'),
  'no-unit.json': wallAt('29'),
});
afterAll(work.remove);

const diagnose = (...args: string[]) => nullwise(['diagnose', ...args], { cwd: work.folder });

describe('diagnose', () => {
  test('says of the demo what, where, how sure, why and what to do, in the unit of the set-up', async () => {
    const { code, stdout } = await diagnose(
      demo('position-1.txt'),
      demo('position-2.txt'),
      '--setup',
      demo('setup.json'),
      '--moved',
      demo('moved.txt'),
    );
    expect(code).toBe(0);
    expect(stdout).toMatch(/Dip at 3\d\d Hz, -\d\.\d dB, 0\.\d\d octave wide: Move, do not boost/);
    expect(stdout).toContain('Reflection from "wall behind"');
    expect(stdout).toMatch(/It fits "wall behind" at \d\d(\.\d)? cm ± \d(\.\d)? cm \(you said 26 cm\)/);
    expect(stdout).toMatch(/Odds for the placement: its shape [×÷]/);
    expect(stdout).toMatch(/What to do: Move the speaker, farther or nearer\. By/);
    expect(stdout).toContain('The speaker as a whole');
    expect(Math.max(...stdout.split('\n').map((line) => line.length))).toBeLessThanOrEqual(100);
  });

  test('gives the contract in JSON and nothing else', async () => {
    const { code, stdout, stderr } = await diagnose(demo('position-1.txt'), '--json');
    expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    const report = diagnosisSchema.parse(JSON.parse(stdout));
    expect(report.findings.map((f) => f.verdict)).toContain('move');
    for (const { confidence, evidence } of report.findings) {
      expect(confidence).toBeLessThan(1);
      expect(evidence.length).toBeGreaterThan(0);
    }
  });

  test('a set-up that is not one is refused with its file and what is wrong', async () => {
    const { code, stdout, stderr } = await diagnose('room.txt', '--setup', 'room.txt');
    expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
    expect(stderr).toContain('room.txt');
  });

  test.each(['diagnose', 'fit'])(
    '%s warns of a set-up whose distances cannot all be true',
    async (command) => {
      const warned = async (setup: string) => {
        const options = command === 'fit' ? ['--effort', 'quick', '--bands', '2'] : [];
        const { code, stdout } = await nullwise(
          [command, 'room.txt', '--setup', setup, '--json', ...options],
          {
            cwd: work.folder,
          },
        );
        expect(code).toBe(0);
        const { warnings } = JSON.parse(stdout) as { warnings: { code: string; message: string }[] };
        return warnings
          .filter((warning) => warning.code === 'distances-disagree')
          .map(({ message }) => message);
      };
      expect(await warned('setup.json')).toEqual([]);
      expect(await warned('no-unit.json')).toEqual([
        expect.stringContaining('"wall behind" (2900 cm and 129 cm)'),
      ]);
    },
  );
});
