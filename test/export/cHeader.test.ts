import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { cName } from '../../src/export/coefficients/cName.js';
import { exportDesign } from '../../src/export/exportDesign.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { sampleDesign } from './sampleDesign.js';

const LENGTH = 1 << 16;
const RATE = 96000;
const TITLE = 'a title with */, *\\ and /* and ??/ and "quotes" \\ and ümlauts';
const NAME = cName(TITLE);
const hasCompiler = spawnSync('cc', ['--version']).status === 0;
const hasGcc = spawnSync('gcc', ['--version']).status === 0;
const folder = mkdtempSync(join(tmpdir(), 'nullwise-c-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The sections by the equation that the header prints, on an impulse of 1. */
const program = (scale: string, sign: '-' | '+', order: readonly string[]) => `
#include <stdio.h>
#include "filters.h"
int main(void) {
  static double signal[${LENGTH}];
  signal[0] = nullwise_${NAME}_${RATE}_input_gain;
  for (int s = 0; s < nullwise_${NAME}_${RATE}_section_count; s++) {
    double x1 = 0, x2 = 0, y1 = 0, y2 = 0;
    double ${order.map((name, k) => `${name} = nullwise_${NAME}_${RATE}_sections[s][${k}] ${scale}`).join(', ')};
    for (int n = 0; n < ${LENGTH}; n++) {
      double x = signal[n];
      double y = b0 * x + b1 * x1 + b2 * x2 ${sign} a1 * y1 ${sign} a2 * y2;
      x2 = x1; x1 = x; y2 = y1; y1 = y;
      signal[n] = y;
    }
  }
  for (int n = 0; n < ${LENGTH}; n++) printf("%.17g\\n", signal[n]);
  return 0;
}
`;

function impulseResponse(header: string, source: string): Float64Array {
  writeFileSync(join(folder, 'filters.h'), header);
  writeFileSync(join(folder, 'main.c'), source);
  const options = ['-std=c99', '-Wall', '-Wextra', '-Werror', '-pedantic', '-O1'];
  const built = spawnSync('cc', [...options, '-o', join(folder, 'main'), join(folder, 'main.c')], {
    encoding: 'utf8',
  });
  expect(built.stderr).toBe('');
  const { stdout } = spawnSync(join(folder, 'main'), { encoding: 'utf8', maxBuffer: 1e8 });
  return Float64Array.from(stdout.trim().split('\n'), Number);
}

/** By the sum itself. */
function levelDb(impulse: Float64Array, hz: number): number {
  const w = (2 * Math.PI * hz) / RATE;
  let re = 0;
  let im = 0;
  impulse.forEach((v, n) => {
    re += v * Math.cos(w * n);
    im -= v * Math.sin(w * n);
  });
  return 20 * Math.log10(Math.hypot(re, im));
}

// Without a compiler there is nothing to compile with; CI has one, so there it must not be skipped.
describe.skipIf(!hasCompiler && !process.env.CI)(
  'the C header, compiled and run on an impulse (needs cc)',
  () => {
    const design = {
      ...sampleDesign(),
      title: TITLE,
    };
    const checkedHz = [30, 63.6, 119, 554.8, 670.5, 1000, 3312, 8226, 15000, 30000];

    test.each([
      // Double precision: what the sum over 65,536 samples loses.
      ['double', undefined, 'subtracted', 1e-6],
      // 28 bits: the coefficients themselves are off by a few millidecibels at low frequency.
      ['fixed 5.23', { integerBits: 5, fractionBits: 23 }, 'added', 0.02],
      ['fixed 5.40', { integerBits: 5, fractionBits: 40 }, 'subtracted', 1e-5],
    ] as const)('%s equals the closed form to its precision', (_, fixedPoint, feedbackSign, toleranceDb) => {
      const order = ['a1', 'b0', 'b2', 'a2', 'b1'] as const;
      const request = {
        format: 'c-header',
        sampleRate: [48000, RATE, RATE],
        feedbackSign,
        order,
        ...(fixedPoint && { fixedPoint }),
      };
      const { files } = exportDesign(design, { ...request, order: [...order] }, (field) => field);
      const scale = fixedPoint ? `/ (double)(1LL << nullwise_${NAME}_fraction_bits)` : '';
      const sign = feedbackSign === 'added' ? '+' : '-';
      // Only one rate is used; the other one's arrays would be warned of.
      const header = (files[0]!.content as string).replace(
        '#ifndef',
        '#pragma GCC diagnostic ignored "-Wunused-variable"\n#ifndef',
      );
      const impulse = impulseResponse(header, program(scale, sign, order));
      expect(impulse).toHaveLength(LENGTH);
      const expected = bankResponseDb(design.filters, RATE, Float64Array.from(checkedHz));
      const gainDb = 20 * Math.log10(Number(/96000_input_gain = ([\d.e-]+)/.exec(header)![1]));
      checkedHz.forEach((hz, i) => {
        expect(Math.abs(levelDb(impulse, hz) - expected[i]! - gainDb)).toBeLessThan(toleranceDb);
      });
    });
  },
);

describe('the names in a C header', () => {
  test('hold the title as far as C allows, the same each time', () => {
    expect(cName('left 2-way.txt')).toBe('left_2_way_txt');
    expect(cName('left')).toBe('left');
    for (const title of ['', '***', 'ümlaut', 'a__b', '_x_', 'x'.repeat(300), TITLE]) {
      expect(cName(title)).toMatch(/^[A-Za-z0-9]+(_[A-Za-z0-9]+)*$/);
      expect(cName(title).length).toBeLessThanOrEqual(32);
      expect(cName(title)).toBe(cName(title));
    }
  });

  test('differ where titles do that lose something on the way', () => {
    const titles = [
      'ä',
      'ö',
      '',
      '+',
      '-',
      'a  b',
      'a+b',
      'x'.repeat(40),
      `${'x'.repeat(40)}y`,
      'Left',
      'left',
    ];
    expect(new Set(titles.map(cName)).size).toBe(titles.length);
  });

  test('do not let the second of two designs with one title be skipped', () => {
    const design = sampleDesign();
    const guardOf = (filters: typeof design.filters) => {
      const { files } = exportDesign({ ...design, filters }, { format: 'c-header' }, (field) => field);
      return /^#ifndef (\w+)$/m.exec(files[0]!.content as string)![1];
    };
    expect(guardOf(design.filters)).toBe(guardOf(design.filters));
    expect(guardOf(design.filters.slice(1))).not.toBe(guardOf(design.filters));
  });

  test.for([undefined, { integerBits: 5, fractionBits: 23 }])(
    'let two headers into one file, %o',
    (fixedPoint, { skip }) => {
      const headers = ['left', 'right'].map((title) => {
        const request = {
          format: 'c-header',
          sampleRate: [44100, RATE],
          ...(fixedPoint && { fixedPoint }),
        };
        const { files } = exportDesign({ ...sampleDesign(), title }, request, (field) => field);
        return files[0]!.content as string;
      });
      const guards = headers.map((header) => /^#ifndef (\w+)$/m.exec(header)![1]);
      expect(guards[0]).toMatch(/^NULLWISE_left_\w+_H$/);
      expect(guards[1]).toMatch(/^NULLWISE_right_\w+_H$/);
      skip(!hasGcc && !process.env.CI, 'there is no gcc to compile the headers with');
      headers.forEach((header, i) => {
        writeFileSync(join(folder, `${['left', 'right'][i]}.h`), header);
      });
      const used = ['left', 'right'].map(
        (name) => `nullwise_${name}_${RATE}_input_gain + (double)nullwise_${name}_${RATE}_sections[0][0]`,
      );
      const include = '#include "left.h"\n#include "right.h"\n#include "left.h"\n';
      writeFileSync(
        join(folder, 'both.c'),
        `${include}int main(void) { return (${used.join(' + ')}) > 1e9; }\n`,
      );
      const built = spawnSync(
        'gcc',
        ['-Wall', '-Werror', '-o', join(folder, 'both'), join(folder, 'both.c')],
        { encoding: 'utf8' },
      );
      expect(built.stderr).toBe('');
      expect(spawnSync(join(folder, 'both')).status).toBe(0);
    },
  );
});
