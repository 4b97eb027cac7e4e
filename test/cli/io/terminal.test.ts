import { afterEach, describe, expect, test, vi } from 'vitest';
import { paint } from '../../../cli/io/terminal.js';

const terminal = { isTTY: true } as NodeJS.WriteStream;
const pipe = { isTTY: false } as NodeJS.WriteStream;

afterEach(() => vi.unstubAllEnvs());

describe('paint', () => {
  test('colours on a terminal', () => {
    vi.stubEnv('NO_COLOR', undefined);
    vi.stubEnv('TERM', 'xterm');
    expect(paint(terminal, 'red', 'x')).toBe('\u001b[31mx\u001b[39m');
  });

  test('colours nothing in a pipe, on a dumb terminal or where NO_COLOR is set', () => {
    vi.stubEnv('TERM', 'xterm');
    vi.stubEnv('NO_COLOR', undefined);
    expect(paint(pipe, 'red', 'x')).toBe('x');
    vi.stubEnv('NO_COLOR', '1');
    expect(paint(terminal, 'red', 'x')).toBe('x');
    vi.stubEnv('NO_COLOR', '');
    expect(paint(terminal, 'red', 'x')).not.toBe('x');
    vi.stubEnv('TERM', 'dumb');
    expect(paint(terminal, 'red', 'x')).toBe('x');
  });
});
