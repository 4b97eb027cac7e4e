import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { curveText } from './curveText.js';
import { nullwise } from './nullwise.js';
import { workFolder } from './workFolder.js';

const work = workFolder();
afterAll(work.remove);

const STRANGE_NAMES = [
  ' two  words .txt',
  `it's "so".txt`,
  'two\nlines.txt',
  '--force.txt',
  'Ünïcode 測定 \u202egnp.txt',
  '<img src=x onerror=alert(1)>&amp;.txt',
  '$(touch owned);`touch owned`|x.txt',
  '...txt',
];

describe('names that a shell or a page could misread', () => {
  test('are read, shown and written as they are: spaces, quotes, line breaks, dashes, other scripts, mark-up', async () => {
    mkdirSync(work.path('strange'));
    for (const name of STRANGE_NAMES) writeFileSync(work.path('strange', name), curveText());
    const out = `-- out "of"\n${STRANGE_NAMES[5]!.replaceAll('.txt', '')} 測 `;
    const { code, stderr } = await nullwise(['fit', '--bands', '1', `--out=${out}`, '--', ...STRANGE_NAMES], {
      cwd: work.path('strange'),
    });
    expect({ code, stderr }).toEqual({ code: 0, stderr: expect.any(String) });
    expect(readdirSync(work.path('strange')).sort()).toEqual([...STRANGE_NAMES, out].sort());
    for (const name of ['report.html', 'before-after.svg']) {
      expect(readFileSync(work.path('strange', out, name), 'utf8')).not.toContain('<img src=x');
    }
  });

  test('a refusal names a file with a line break in it, and takes no control characters to the terminal', async () => {
    const name = 'bad\u001b[31m\nname.txt';
    writeFileSync(work.path(name), 'no rows');
    const { code, stderr } = await nullwise(['fit', name], { cwd: work.folder });
    expect(code).toBe(2);
    expect(stderr).toContain('name.txt');
    expect(stderr).not.toContain('\u001b[31m');
  });
});

describe('paths inside the files that are read', () => {
  test('are words and nothing else: what they name is neither read nor written', async () => {
    mkdirSync(work.path('inside'));
    const secret = work.path('inside', 'secret.txt');
    writeFileSync(secret, 'SECRET');
    const target = work.path('inside', 'never.txt');
    writeFileSync(
      work.path('inside', 'room.txt'),
      `# file: ${secret}\n# output: ${target}\n# include ../secret.txt\n${curveText()}`,
    );
    writeFileSync(
      work.path('inside', 'setup.json'),
      JSON.stringify({
        microphoneDistance: '1 m',
        surfaces: [{ name: `../../${secret}`, speakerDistance: '30 cm', microphoneDistance: '130 cm' }],
      }),
    );
    const { code } = await nullwise(
      ['fit', 'room.txt', '--setup', 'setup.json', '--bands', '1', '--out', 'out'],
      { cwd: work.path('inside') },
    );
    expect(code).toBe(0);
    expect(existsSync(target)).toBe(false);
    expect(readdirSync(work.path('inside')).sort()).toEqual(['out', 'room.txt', 'secret.txt', 'setup.json']);
    for (const name of readdirSync(work.path('inside', 'out'))) {
      expect(readFileSync(work.path('inside', 'out', name), 'utf8')).not.toContain('SECRET');
    }
  });
});
