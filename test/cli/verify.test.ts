import { readFileSync, writeFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { type Design, designSchema } from '../../src/schema/design.js';
import { verificationSchema } from '../../src/schema/verification.js';
import { curveText } from './curveText.js';
import { manyRuns } from './manyRuns.js';
import { workFolder } from './workFolder.js';

const { run: nullwise, end } = manyRuns();
afterAll(end);

const work = workFolder({ 'room.txt': curveText() });
afterAll(work.remove);

const verify = (...args: string[]) => nullwise(['verify', 'design.json', ...args], { cwd: work.folder });

/** The measurement file with these filters in force and another level. */
function measured(filters: readonly Filter[], sampleRateHz: number): string {
  const rows = curveText({ offsetDb: -7 }).split('\n');
  return rows
    .map((row) => {
      const [hz, db] = row.split(' ').map(Number);
      if (!(hz! > 0)) return row;
      return `${hz} ${(db! + bankResponseDb(filters, sampleRateHz, Float64Array.of(hz!))[0]!).toFixed(3)}`;
    })
    .join('\n');
}

let design: Design;
beforeAll(async () => {
  const { stdout } = await nullwise(['fit', 'room.txt', '--bands', '3', '--json'], { cwd: work.folder });
  writeFileSync(work.path('design.json'), stdout);
  design = designSchema.parse(JSON.parse(stdout));
  const { filters, sampleRateHz } = design;
  writeFileSync(work.path('good.txt'), measured(filters, sampleRateHz));
  writeFileSync(work.path('off.txt'), measured([], sampleRateHz));
});

describe('verify', () => {
  test('says as promised of what is, whatever the level', async () => {
    const { code, stdout } = await verify('good.txt');
    expect(code).toBe(0);
    expect(stdout).toContain('As promised');
    expect(stdout).toMatch(/Octave +Promised/);
    const json = await verify('good.txt', '--json');
    const result = verificationSchema.parse(JSON.parse(json.stdout));
    expect(result).toMatchObject({ schemaVersion: 1, asPromised: true, faults: [] });
    expect(result.errorRmsDb).toBeLessThan(0.1);
    expect(json.stderr).toBe('');
  });

  test('names an equalizer that is off, still with exit code 0, and leaves text, figures and drawing', async () => {
    const { code, stdout, stderr } = await verify('off.txt', '--out', 'check');
    expect(code).toBe(0);
    expect(stdout).toContain('NOT as promised');
    expect(stdout).toContain('What to do:');
    expect(stderr).toContain('verification.svg');
    expect(readFileSync(work.path('check', 'verification.txt'), 'utf8')).toBe(stdout);
    const json = JSON.parse(readFileSync(work.path('check', 'verification.json'), 'utf8')) as unknown;
    expect(verificationSchema.parse(json).faults[0]?.type).toBe('bypassed');
    expect(readFileSync(work.path('check', 'verification.svg'), 'utf8')).toMatch(/^<svg [\s\S]*<\/svg>\n$/);
    const again = await verify('off.txt', '--out', 'check');
    expect(again.code).toBe(2);
    expect(again.stderr).toContain('--force');
    expect((await verify('off.txt', '--out', 'check', '--force', '--quiet')).code).toBe(0);
  });

  test('--before takes the place of the curve in the design', async () => {
    // Against the filtered curve the filtered one shows no filters at all.
    const { stdout } = await verify('good.txt', '--before', 'good.txt', '--json');
    expect(verificationSchema.parse(JSON.parse(stdout)).faults[0]?.type).toBe('bypassed');
  });

  test('refuses what is no design, and curves that share nothing with it', async () => {
    const noDesign = await nullwise(['verify', 'room.txt', 'good.txt'], { cwd: work.folder });
    expect({ code: noDesign.code, stdout: noDesign.stdout }).toEqual({ code: 2, stdout: '' });
    expect(noDesign.stderr).toContain('room.txt');
    const rows = Array.from({ length: 50 }, (_, i) => `${1 + i / 100} 80`).join('\n');
    writeFileSync(work.path('subsonic.txt'), rows);
    const apart = await verify('subsonic.txt');
    expect(apart.code).toBe(2);
    expect(apart.stderr).toMatch(/share less than an octave/);
  });
});
