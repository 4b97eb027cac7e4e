import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { logGrid } from '../../src/curve/logGrid.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { realFft } from '../../src/impulse/samples/fft.js';
import { listeningLevels } from '../../web/listen/listeningLevels.js';
import { launchChromium } from './chromium.js';
import type * as Parts from './partsListenEntry.js';
import { bundled, pageWith } from './partsPage.js';

declare global {
  var listen: typeof Parts;
}

const style = readFileSync(new URL('../../web/listen/listen.css', import.meta.url), 'utf8');
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const BODY = `<style>body { margin: 16px; background: canvas; color-scheme: light dark } ${style}</style>`;

/** Every type, low and sharp, broad, near the top of the band, boosts and cuts, Qs that ready-made shelves lack. */
const FILTERS: readonly Filter[] = [
  { type: 'peaking', frequencyHz: 31.5, gainDb: 4.2, q: 8 },
  { type: 'peaking', frequencyHz: 297, gainDb: -7.5, q: 2.4 },
  { type: 'lowShelf', frequencyHz: 120, gainDb: 3, q: 0.5 },
  { type: 'highShelf', frequencyHz: 8000, gainDb: -4, q: 1.1 },
  { type: 'peaking', frequencyHz: 15_000, gainDb: 5, q: 3 },
];

let browser: Browser;
let script: string;
let page: Page;

beforeAll(async () => {
  browser = await launchChromium();
  script = await bundled('partsListenEntry.tsx', 'listen');
  page = await pageWith(browser, script, BODY);
});
afterAll(() => browser?.close());

const rendered = (asked: Parts.Rendering): Promise<Float64Array> =>
  page.evaluate((a) => listen.rendered(a), asked).then((samples) => Float64Array.from(samples));

const SIZE = 1 << 17;

/** Level of what follows the impulse, at the transform's own frequencies that are nearest to the asked ones. */
async function impulseLevels(side: 'before' | 'after', sampleRateHz: number, frequencyHz: Float64Array) {
  const samples = await rendered({
    sampleRateHz,
    filters: FILTERS,
    side,
    seconds: 2 + SIZE / sampleRateHz,
    sound: 'impulse',
    fromS: 2,
  });
  const { bins } = realFft(samples.slice(0, SIZE), SIZE);
  const nearest = [...frequencyHz].map((hz) => Math.round((hz * SIZE) / sampleRateHz));
  return {
    hz: Float64Array.from(nearest, (k) => (k * sampleRateHz) / SIZE),
    levelDb: nearest.map((k) => 20 * Math.log10(Math.hypot(bins[2 * k]!, bins[2 * k + 1]!))),
  };
}

describe('what the browser renders', () => {
  test.each([44_100, 48_000, 96_000])(
    'has the closed form of the filters at %i Hz to 0.0001 dB, input gain included',
    async (sampleRateHz) => {
      const { hz, levelDb } = await impulseLevels('after', sampleRateHz, logGrid(20, 20_000, 24));
      const expected = bankResponseDb(FILTERS, sampleRateHz, hz);
      const { inputGainDb } = listeningLevels(FILTERS, sampleRateHz);
      const worst = Math.max(...levelDb.map((db, i) => Math.abs(db - expected[i]! - inputGainDb)));
      // 0.05 dB is asked for; single precision of the samples alone gives some 1e-4 dB.
      expect(worst).toBeLessThan(0.01);
    },
  );

  test('is flat without the filters, at the gain that matches loudness', async () => {
    const { levelDb } = await impulseLevels('before', 48_000, logGrid(20, 20_000, 6));
    const { beforeDb } = listeningLevels(FILTERS, 48_000);
    for (const db of levelDb) expect(db).toBeCloseTo(beforeDb, 3);
  });

  test('is equally loud on pink noise with and without, to 0.05 dB', async () => {
    const asked = { sampleRateHz: 48_000, filters: FILTERS, seconds: 6, fromS: 3, sound: 'noise' } as const;
    const [before, after] = [
      await rendered({ ...asked, side: 'before' }),
      await rendered({ ...asked, side: 'after' }),
    ];
    // One whole period of the noise, after the fade at the start.
    const rms = (x: Float64Array) => Math.sqrt(x.slice(0, SIZE).reduce((s, v) => s + v * v, 0) / SIZE);
    expect(20 * Math.log10(rms(after) / rms(before))).toBeCloseTo(0, 1.3);
    expect(rms(before)).toBeGreaterThan(0.02);
    expect(after.every((v) => Math.abs(v) < 1)).toBe(true);
  });

  test('switches, changes filters, turns the volume and stops without a click', async () => {
    const sine = { sampleRateHz: 48_000, side: 'before', seconds: 3, sound: { sineHz: 300 } } as const;
    const bank = FILTERS.slice(1, 3);
    // The greatest second difference of a steady sine, for a click is nothing but a jump in it.
    const jump = (x: Float64Array, fromS: number, toS: number) => {
      let most = 0;
      for (let i = fromS * 48_000; i < toS * 48_000; i++)
        most = Math.max(most, Math.abs(x[i + 1]! - 2 * x[i]! + x[i - 1]!));
      return most;
    };
    const steady = await rendered({ ...sine, filters: bank });
    const most = jump(steady, 1.2, 2.8);
    const busy = await rendered({
      ...sine,
      filters: bank,
      deeds: [
        { atS: 1.3, choose: 'after' },
        { atS: 1.304, choose: 'before' },
        { atS: 1.6, choose: 'after' },
        { atS: 1.8, filters: [{ type: 'peaking', frequencyHz: 300, gainDb: -9, q: 2 }] },
        { atS: 2.1, volumeDb: -20 },
        { atS: 2.4, stop: true },
      ],
    });
    expect(jump(busy, 1.2, 2.8)).toBeLessThan(1.15 * most);
    // And yet each deed is heard.
    const level = (x: Float64Array, fromS: number) =>
      Math.max(...x.slice(fromS * 48_000, (fromS + 0.05) * 48_000).map(Math.abs));
    const levels = [1.22, 1.72, 2, 2.3, 2.8].map((s) => level(busy, s));
    expect(levels[1]! / levels[0]!).toBeLessThan(0.75);
    expect(levels[3]! / levels[2]!).toBeCloseTo(0.1, 2);
    expect(levels[4]).toBe(0);
  });

  test('comes up from silence', async () => {
    const x = await rendered({
      sampleRateHz: 48_000,
      filters: [],
      side: 'before',
      seconds: 1,
      sound: { sineHz: 1000 },
    });
    const peak = (fromS: number, toS: number) =>
      Math.max(...x.slice(fromS * 48_000, toS * 48_000).map(Math.abs));
    expect(peak(0, 0.01)).toBeLessThan(0.04);
    expect(peak(0.8, 0.99)).toBeGreaterThan(0.49);
  });
});

describe('a sound file', () => {
  const decode = (bytes: number[], name: string, size?: number) =>
    page.evaluate(
      async ([b, n, s]) => {
        const file = new File([Uint8Array.from(b)], n);
        if (s !== undefined) Object.defineProperty(file, 'size', { value: s });
        return listen.decodeSound(new OfflineAudioContext(1, 1, 48_000), file).then(
          (sound) => `${sound.numberOfChannels} × ${sound.duration.toFixed(2)} s at ${sound.sampleRate}`,
          (error: Error) => `${error.name}: ${error.message}`,
        );
      },
      [bytes, name, size] as const,
    );

  test('is decoded at the rate that is played', async () => {
    expect(await decode(wav(22_050, 0.5), 'a.wav')).toBe('1 × 0.50 s at 48000');
  });

  test('that is none is refused in words', async () => {
    expect(await decode([1, 2, 3], '<b>.mp3')).toMatch(
      /^InputError: “<b>.mp3” holds no sound that this browser can play; expected/,
    );
    expect(await decode([], 'a.wav')).toBe('InputError: “a.wav” is empty');
    expect(await decode(wav(48_000, 0.05), 'a.wav')).toMatch(
      /^InputError: “a.wav”: found 50 ms of sound, expected at least 200 ms/,
    );
    expect(await decode([1], 'a.wav', 300 * 2 ** 20)).toMatch(
      /^InputError: “a.wav”: found 300 MB, expected a sound of at most 120 MB/,
    );
  });
});

describe('the listening part', () => {
  async function withListen(
    work: (page: Page) => Promise<void>,
    filters: readonly Filter[] = FILTERS,
  ): Promise<void> {
    const own = await pageWith(browser, script, BODY);
    const faults: string[] = [];
    own.on('pageerror', (error) => faults.push(error.message));
    await own.evaluate((f) => listen.showListen(f), filters);
    await work(own);
    expect(faults).toEqual([]);
    await own.context().close();
  }
  const states = (own: Page) => own.evaluate(() => listen.contexts.map(({ state }) => state));
  const status = (own: Page) => own.getByRole('status').textContent();

  test('opens no audio before it is asked to play, plays, switches by arrow key and stops', () =>
    withListen(async (own) => {
      expect(await states(own)).toEqual([]);
      expect(await own.getByLabel('Volume').inputValue()).toBe('-30');
      await own.getByRole('button', { name: 'Play' }).click();
      await own.getByRole('button', { name: 'Stop' }).waitFor();
      expect(await states(own)).toEqual(['running']);
      expect(await status(own)).toBe('You hear pink noise with the filters.');
      await own.getByLabel('With the filters').focus();
      await own.keyboard.press('ArrowLeft');
      expect(await status(own)).toBe('You hear pink noise without the filters.');
      expect(await own.locator('.listen-facts').textContent()).toMatch(/Your browser plays at [\d.]+ kHz/);
      await own.evaluate(() =>
        listen.changeFilters([{ type: 'peaking', frequencyHz: 100, gainDb: -3, q: 1 }]),
      );
      await expect.poll(() => own.locator('.listen-facts').textContent()).toMatch(/raise nothing/);
      await own.getByRole('button', { name: 'Stop' }).click();
      await expect.poll(() => states(own)).toEqual(['suspended']);
      expect(await status(own)).toMatch(/^Silent\./);
    }));

  test('stops when the page is hidden', () =>
    withListen(async (own) => {
      await own.getByRole('button', { name: 'Play' }).click();
      await own.getByRole('button', { name: 'Stop' }).waitFor();
      await own.evaluate(() => {
        Object.defineProperty(document, 'hidden', { value: true });
        document.dispatchEvent(new Event('visibilitychange'));
      });
      await own.getByRole('button', { name: 'Play' }).waitFor();
      await expect.poll(() => states(own)).toEqual(['suspended']);
    }));

  test('plays a file of the user, says its name as text, and goes back to the noise', () =>
    withListen(async (own) => {
      const input = own.getByLabel('Take a sound file of your own');
      await input.setInputFiles({
        name: '<img src=x>.wav',
        mimeType: 'audio/wav',
        buffer: Buffer.from(wav(48_000, 0.5)),
      });
      await own.getByText('<img src=x>.wav', { exact: true }).waitFor();
      await own.getByRole('button', { name: 'Play' }).click();
      await expect.poll(() => status(own)).toBe('You hear “<img src=x>.wav” with the filters.');
      await input.setInputFiles({
        name: 'notes.txt',
        mimeType: 'text/plain',
        buffer: Buffer.from('no sound'),
      });
      await own.getByRole('alert').waitFor();
      expect(await own.getByRole('alert').textContent()).toMatch(/“notes.txt” holds no sound/);
      expect(await status(own)).toBe('You hear “<img src=x>.wav” with the filters.');
      await own.getByRole('button', { name: 'Pink noise again' }).click();
      await expect.poll(() => status(own)).toBe('You hear pink noise with the filters.');
      expect(await own.locator('img').count()).toBe(0);
    }));

  test('says it in words where the browser opens no audio', () =>
    withListen(async (own) => {
      await own.evaluate(() => {
        Object.defineProperty(window, 'AudioContext', { value: undefined });
      });
      await own.getByRole('button', { name: 'Play' }).click();
      expect(await own.getByRole('alert').textContent()).toMatch(/^This browser lets the page make no sound/);
    }));

  test.each(['light', 'dark'] as const)(
    'axe finds nothing to complain of, %s, wide and narrow, and nothing sticks out',
    (colorScheme) =>
      withListen(async (own) => {
        await own.emulateMedia({ colorScheme });
        await own.evaluate(axe);
        for (const width of [1440, 390]) {
          await own.setViewportSize({ width, height: 844 });
          const found = await own.evaluate(async () => {
            const { violations } = await (
              window as unknown as {
                axe: { run(c: string): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };
              }
            ).axe.run('main');
            return violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`);
          });
          expect(found).toEqual([]);
          expect(await own.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
        }
      }),
  );
});

/** A mono WAV file of 16 bits with a quiet tone. */
function wav(sampleRateHz: number, seconds: number): number[] {
  const count = Math.round(sampleRateHz * seconds);
  const bytes = Buffer.alloc(44 + 2 * count);
  bytes.write('RIFF', 0);
  bytes.writeUInt32LE(36 + 2 * count, 4);
  bytes.write('WAVEfmt ', 8);
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(1, 20);
  bytes.writeUInt16LE(1, 22);
  bytes.writeUInt32LE(sampleRateHz, 24);
  bytes.writeUInt32LE(2 * sampleRateHz, 28);
  bytes.writeUInt16LE(2, 32);
  bytes.writeUInt16LE(16, 34);
  bytes.write('data', 36);
  bytes.writeUInt32LE(2 * count, 40);
  for (let i = 0; i < count; i++) bytes.writeInt16LE(Math.round(2000 * Math.sin(i / 20)), 44 + 2 * i);
  return [...bytes];
}
