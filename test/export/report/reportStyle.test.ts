import { expect, test } from 'vitest';
import { reportStyle } from '../../../src/export/report/reportStyle.js';

/** Relative luminance (WCAG 2.2, "relative luminance"). */
function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((i) => {
    const c = Number.parseInt(hex.slice(i, i + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(a: string, b: string): number {
  const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
  return (high + 0.05) / (low + 0.05);
}

const themes = [...reportStyle.matchAll(/:root \{([^}]*)\}/g)]
  .slice(0, 2)
  .map((match) =>
    Object.fromEntries([...match[1]!.matchAll(/--(\w+): (#[0-9a-f]{6});/g)].map((m) => [m[1]!, m[2]!])),
  );

test.each([
  ['light', 0],
  ['dark', 1],
] as const)(
  'text in the %s theme has the contrast that WCAG 2.2 asks for (4.5), curves theirs (3)',
  (_, i) => {
    const theme = themes[i]!;
    for (const ground of ['paper', 'ground']) {
      for (const text of ['ink', 'soft', 'accent', 'warn']) {
        expect(contrast(theme[text]!, theme[ground]!)).toBeGreaterThanOrEqual(4.5);
      }
    }
    for (const text of ['ink', 'warn']) {
      expect(contrast(theme[text]!, theme.warnground!)).toBeGreaterThanOrEqual(4.5);
    }
    for (const curve of ['before', 'after', 'eq', 'faint', 'ink']) {
      expect(contrast(theme[curve]!, theme.paper!)).toBeGreaterThanOrEqual(3);
    }
  },
);

test('the style asks for nothing from outside', () => {
  expect(reportStyle).not.toMatch(/url\(|@import|https?:/);
});
