import { afterAll, afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { run } from '../../cli/run.js';
import { curveText } from './curveText.js';
import { workFolder } from './workFolder.js';

vi.mock('../../src/design.js', () => ({
  design: () => {
    throw new TypeError('a matrix lost its rows\nsecond line');
  },
}));

const work = workFolder({ 'room.txt': curveText() });
afterAll(work.remove);

describe('run, when the program itself is at fault', () => {
  let written = '';
  beforeEach(() => {
    written = '';
    vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
      written += String(text);
      return true;
    });
  });
  afterEach(() => {
    vi.restoreAllMocks();
    vi.unstubAllEnvs();
  });

  test('ends with 1, one line and a hint how to see more; nothing is written', async () => {
    vi.stubEnv('NULLWISE_DEBUG', undefined);
    expect(await run(['fit', work.path('room.txt'), '--out', work.path('result')])).toBe(1);
    const lines = written.trimEnd().split('\n');
    expect(lines).toHaveLength(2);
    expect(lines[0]).toContain('internal fault: a matrix lost its rows');
    expect(lines[1]).toContain('NULLWISE_DEBUG=1');
    expect(work.list()).toEqual(['room.txt']);
  });

  test('shows the stack where NULLWISE_DEBUG asks for it', async () => {
    vi.stubEnv('NULLWISE_DEBUG', '1');
    expect(await run(['fit', work.path('room.txt')])).toBe(1);
    expect(written).toMatch(/TypeError: a matrix lost its rows[\s\S]*\n {4}at /);
  });
});
