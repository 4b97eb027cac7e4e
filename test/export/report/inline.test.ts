import fc from 'fast-check';
import { expect, test } from 'vitest';
import { inlineJson } from '../../../src/export/report/inlineJson.js';
import { inlineScript } from '../../../src/export/report/inlineScript.js';
import { HOSTILE } from '../hostileDesign.js';

test('inlineJson holds no character that could end its element, and reads back the same', () => {
  const text = inlineJson({ title: HOSTILE });
  expect(text).not.toMatch(/[<>&\u2028\u2029]/);
  expect(JSON.parse(text)).toEqual({ title: HOSTILE });
  fc.assert(
    fc.property(fc.jsonValue(), (value) => {
      expect(JSON.parse(inlineJson(value))).toEqual(JSON.parse(JSON.stringify(value)));
    }),
    { seed: 31 },
  );
});

test('inlineScript keeps what the script does and lets nothing in it end the element', () => {
  const source = "[`</script>`, '<!-- x', /<script>/.source, 1 < 2,\r\n 'a</SCRIPT >b']";
  const inline = inlineScript(source);
  expect(inline).not.toMatch(/<!--|<\/?script/i);
  expect(inline).not.toContain('\r');
  const run = (code: string) => new Function(`return ${code}`)() as unknown[];
  const [a, b, c, d, e] = run(inline);
  expect([a, b, d, e]).toEqual(['</script>', '<!-- x', true, 'a</SCRIPT >b']);
  expect(new RegExp(c as string).test('<script>')).toBe(true);
});
