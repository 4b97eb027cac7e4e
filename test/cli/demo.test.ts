import { readFileSync, writeFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { designSchema } from '../../src/schema/design.js';
import { nullwise } from './nullwise.js';
import { workFolder } from './workFolder.js';

const work = workFolder();
afterAll(work.remove);

const demo = (...args: string[]) => nullwise(['demo', ...args], { cwd: work.folder });

describe('demo', () => {
  test('runs from any folder, says where the report is, and that everything is simulated', async () => {
    const { code, stderr } = await demo();
    expect(code).toBe(0);
    expect(stderr).toContain('result/demo/report.html');
    const text = readFileSync(work.path('result', 'demo', 'design.json'), 'utf8');
    const design = designSchema.parse(JSON.parse(text));
    expect(design.title).toContain('simulated');
    expect(design.error.afterRmsDb).toBeLessThan(design.error.beforeRmsDb);
    expect(design.findings.some(({ verdict }) => verdict === 'move')).toBe(true);
    expect(readFileSync(work.path('result', 'demo', 'report.html'), 'utf8')).toMatch(/simulated/i);
  });

  test('overwrites its own earlier output', async () => {
    writeFileSync(work.path('result', 'demo', 'filters.txt'), 'edited');
    expect((await demo('--quiet')).code).toBe(0);
    expect(readFileSync(work.path('result', 'demo', 'filters.txt'), 'utf8')).not.toBe('edited');
  });

  test('but not what someone else left there', async () => {
    writeFileSync(work.path('result', 'demo', 'design.json'), '{ "title": "mine" }');
    const { code, stderr } = await demo();
    expect(code).toBe(2);
    expect(stderr).toContain('--force');
    expect(readFileSync(work.path('result', 'demo', 'design.json'), 'utf8')).toBe('{ "title": "mine" }');
  });
});
