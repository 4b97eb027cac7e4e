import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { add, given, measured, saveButton, saved, setup, surface, type } from './inventedSpeaker.js';
import { servedApp } from './servedApp.js';
import { accessibilityFaults, addFiles, handedOver, openApp, settled } from './webApp.js';

const app = servedApp();

/** Presses Stop as soon as it is there. */
const stopAtOnce = (page: Page) =>
  page.evaluate(() => {
    const watch = new MutationObserver(() => {
      const stop = [...document.querySelectorAll('button')].find(({ textContent }) => textContent === 'Stop');
      if (!stop) return;
      watch.disconnect();
      stop.click();
    });
    watch.observe(document.body, { childList: true, subtree: true });
  });

const filesShown = (page: Page) =>
  page
    .locator('.files li')
    .evaluateAll((rows) =>
      rows.map((row) =>
        [
          row.querySelector('.file-name')?.textContent,
          row.querySelector('select')?.value,
          row.querySelector('.file-note')?.textContent,
        ].join(' | '),
      ),
    );

describe('a search that was stopped before it had found anything', () => {
  test('leaves nothing to hand over that belongs to what stood there before, and can be gone on with', async () => {
    const { page } = await openApp(app.browser, app.address);
    await settled(page);
    await stopAtOnce(page);
    await add(page, [measured('mine.txt')], 1);
    await page.getByText('what is shown is from before the last change').first().waitFor();
    expect(await saveButton(page).isDisabled()).toBe(true);
    await page.getByRole('button', { name: 'Search on' }).click();
    await settled(page);
    expect(await saveButton(page).isEnabled()).toBe(true);
    expect((await saved(page)).title).toBe('mine.txt (simulated)');
    await page.context().close();
  });

  test('can be gone on with in an empty worksheet too', async () => {
    const { page } = await openApp(app.browser, app.address);
    await page.locator('.menu summary').click();
    await page.getByRole('button', { name: 'New, empty' }).click();
    await page.waitForFunction(() => document.querySelectorAll('.files li').length === 0);
    await stopAtOnce(page);
    await add(page, [measured('mine.txt')], 1);
    expect(await page.locator('#conclusion').textContent()).toContain('before the search was stopped');
    await page.getByRole('button', { name: 'Search on' }).click();
    await settled(page);
    expect(await page.locator('#conclusion').textContent()).toMatch(/RMS between/);
    await page.context().close();
  });
});

test('a reload in the midst of a search brings no earlier design back, nor one with held filters as the fit’s own', async () => {
  const { page } = await openApp(app.browser, app.address);
  await add(page, [measured('one.txt')], 1);
  await type(page, 'Bands', '4');
  await settled(page);
  const four = await saved(page);
  await type(page, 'Bands', '2');
  await settled(page);
  expect((await saved(page)).filters).not.toEqual(four.filters);
  const reload = async () => {
    await page.reload();
    await page.waitForSelector('.overlay .curve-expected');
    await settled(page);
  };
  await type(page, 'Bands', '4');
  await page.locator('.pulse').waitFor();
  await reload();
  expect(await page.getByLabel('Bands', { exact: true }).inputValue()).toBe('4');
  expect((await saved(page)).filters).toEqual(four.filters);

  await type(page, 'Gain of filter A', '-3.3');
  await page.getByRole('button', { name: 'Refit the rest' }).click();
  await settled(page);
  await saved(page);
  await reload();
  await page.getByRole('button', { name: "The fit's own again" }).click();
  await settled(page);
  expect((await saved(page)).filters).toEqual(four.filters);
  await page.context().close();
});

describe('what a file is', () => {
  test('is not changed to what it cannot be, and an undo brings back all that was read', async () => {
    const { page } = await openApp(app.browser, app.address);
    await add(page, [measured('one.txt'), measured('two.txt'), setup('setup.json', surface('wall', 30))], 3);
    const before = await filesShown(page);
    await page.locator('.files select').nth(1).selectOption('setup');
    await page.getByText('Not taken as “Where things stood”: two.txt').waitFor();
    expect(await filesShown(page)).toEqual(before);
    await page.locator('.files select').nth(1).selectOption('calibration');
    await settled(page);
    expect(await filesShown(page)).not.toEqual(before);
    await page.getByRole('button', { name: 'Undo' }).click();
    await settled(page);
    expect(await filesShown(page)).toEqual(before);
    expect(await page.locator('.problems').count()).toBe(0);
    await page.context().close();
  });

  test('is told where one has to go for another, and where it was guessed from a name', async () => {
    const { page } = await openApp(app.browser, app.address);
    await add(page, [measured('one.txt'), setup('first.json', surface('wall', 30))], 2);
    const calibrations = ['left-calibration.txt', 'right-calibration.txt'];
    await add(
      page,
      calibrations.map((name) => measured(name)),
      3,
    );
    expect(await page.locator('.problems').textContent()).toMatch(
      /left-calibration\.txt: found a second “Microphone calibration” beside right-calibration\.txt, expected one/,
    );
    const target = 'frequency (Hz);level (dB);spread (dB)\n20;3;1\n20000;0;1\n';
    await add(page, [setup('second.json', surface('wall', 40)), given('target.txt', target)], 3);
    const notice = (await page.locator('.notice').textContent())!;
    expect(notice).toContain('second.json took the place of first.json');
    expect(notice).toContain('target.txt was taken as the target by its name');
    expect(notice).toMatch(/target\.txt has columns .* not used: .spread \(db\)/);
    await page.locator('.menu summary').click();
    const worksheet = await handedOver(page, () =>
      page.getByRole('button', { name: 'Save as a file' }).click(),
    );
    await addFiles(page, [given('mine.json', worksheet), measured('beside.txt')]);
    await page.getByText('beside.txt: found it beside the worksheet mine.json').waitFor();
    await page.context().close();
  });

  test('is said of each also where none was measured here', async () => {
    const { page } = await openApp(app.browser, app.address);
    await add(page, [measured('one.txt'), setup('setup.json', surface('wall', 30))], 2);
    await page.locator('.files select').first().selectOption('placement');
    await settled(page);
    expect(await page.locator('#conclusion').textContent()).toContain('None of the files is taken as');
    const [placement, surfaces] = await filesShown(page);
    expect(placement).toMatch(/^one\.txt \| placement \| 200 rows, 20\sHz to 20\skHz, marked as simulated$/);
    expect(surfaces).toBe('setup.json | setup | wall');
    await page.context().close();
  });
});

test('a sound file is read by the first channel that holds an impulse response, whatever it is called', async () => {
  const { page } = await openApp(app.browser, app.address);
  const impulse = Float64Array.from({ length: 8192 }, (_, i) =>
    i === 100 ? 0.5 : 1e-5 * Math.sin(7 * i * i),
  );
  const { bytes } = writeWav({
    channels: [new Float64Array(8192), impulse],
    sampleRateHz: 48000,
    format: 'pcm24',
  });
  await add(page, [{ name: 'left mic.wav', mimeType: 'audio/wav', buffer: Buffer.from(bytes) }], 1);
  expect(await page.locator('.notice').textContent()).toContain('Channel 2 of left mic.wav is read');
  expect((await filesShown(page))[0]).toMatch(/^left mic\.wav \| position \| 8192 samples/);
  expect(await page.getByLabel('Channel of left mic.wav').inputValue()).toBe('2');
  await page.getByLabel('Channel of left mic.wav').fill('1');
  await page.keyboard.press('Enter');
  await page.locator('.read-as').getByText('channel 1 of 2 was read; “Channel” picks another').waitFor();
  await page.context().close();
});

test('a place to which the speaker was moved goes with the set-up that it belongs to', async () => {
  const { page, complaints } = await openApp(app.browser, app.address);
  await settled(page);
  const move = async () => {
    await page.locator('.placement [role="slider"]').first().focus();
    await page.keyboard.press('Shift+ArrowDown');
    await page.waitForSelector('.placement-what-if');
  };
  await move();
  const count = await page.locator('.files li').count();
  await add(page, [setup('other.json', surface('curtain', 40), surface('floor', 70))], count);
  expect(await page.locator('.placement-readout').textContent()).toContain('40 cm from curtain');
  expect(await page.locator('.placement-what-if').count()).toBe(0);
  await move();
  await page.getByRole('button', { name: 'Take away other.json' }).click();
  await settled(page);
  expect(await page.locator('#stands').textContent()).toContain('Nothing is known of walls');
  await page.getByRole('button', { name: 'Undo' }).click();
  await page.waitForSelector('.placement-what-if');
  expect(complaints).toEqual([]);
  await page.context().close();
});

describe('the numbers to type into an equalizer', () => {
  const DEVICE = {
    name: 'quarters',
    sampleRatesHz: [48000],
    bands: [{ types: ['peaking'], count: 3 }],
    gainDb: { min: -12, max: 6, step: 0.25 },
    frequencyHz: { min: 20, max: 20000, step: 1 },
    q: { min: 0.5, max: 8, step: 0.125 },
    qConvention: 'cookbook',
  };

  test('are those that it has, and nothing is handed over for filters that it cannot hold', async () => {
    const { page } = await openApp(app.browser, app.address);
    await add(page, [measured('one.txt'), given('device.json', JSON.stringify(DEVICE))], 2);
    await type(page, 'Bands', '5');
    await settled(page);
    expect(await page.locator('#to-set .lead').textContent()).toContain('of 3 bands');
    await type(page, 'Gain of filter A', '-2.25');
    await type(page, 'Q of filter A', '1.125');
    expect(await page.getByLabel('Gain of filter A').inputValue()).toBe('-2.25');
    expect(await page.getByLabel('Q of filter A').inputValue()).toBe('1.125');
    expect(await page.locator('#to-set').textContent()).not.toContain('nearest values');
    const shown = await page
      .locator('.filters tbody tr')
      .evaluateAll((rows) =>
        rows.map((row) =>
          [...row.querySelectorAll<HTMLInputElement>('input.cell')].map(({ value }) => +value),
        ),
      );
    expect(shown).toEqual(
      (await saved(page)).filters.map(({ frequencyHz, gainDb, q }) => [frequencyHz, gainDb, q]),
    );

    await type(page, 'Gain of filter A', '-2.3');
    await page.getByText(/nearest values.*A\s.*, −2\.25\sdB, Q\s1\.125/).waitFor();
    expect((await saved(page)).filters[0]!.gainDb).toBe(-2.25);

    for (let i = shown.length; i < 4; i++) await page.getByRole('button', { name: 'Add a filter' }).click();
    await page.getByText(/found 4 filters, expected no more/).waitFor();
    expect(await saveButton(page).isDisabled()).toBe(true);
    await page.context().close();
  });
});

test('a number that no filter can have is brought back with a word, and a rate is refused that a held filter is above', async () => {
  const { page } = await openApp(app.browser, app.address);
  await add(page, [measured('one.txt')], 1);
  await type(page, 'Gain of filter A', '90');
  await page
    .getByText(/Filter A was brought to the nearest that can be: its gain can be −30 to 24\sdB/)
    .waitFor();
  await type(page, 'Gain of filter A', '-2');
  expect(await page.locator('.notice').count()).toBe(0);
  await type(page, 'Frequency of filter A', '15 kHz');
  await type(page, 'Sample rate', '16000');
  await page.getByText(/found a filter at 15000\sHz, expected less than 8000\sHz/).waitFor();
  expect(await saveButton(page).isDisabled()).toBe(true);
  await type(page, 'Frequency of filter A', '5 kHz');
  await settled(page);
  expect(await saveButton(page).isEnabled()).toBe(true);
  expect((await saved(page)).sampleRateHz).toBe(16000);
  const rows = page.locator('.filters tbody tr');
  while ((await rows.count()) > 0) await page.getByLabel('Remove filter A').click();
  expect(await page.locator('#conclusion').textContent()).toContain('taken out by hand');
  await page.context().close();
});

test('what a hand makes of the filters stays on the chart, is what elsewhere is compared with, and can be read when off', async () => {
  const { page } = await openApp(app.browser, app.address);
  await settled(page);
  await page.locator('.placement [role="slider"]').first().focus();
  await page.keyboard.press('Shift+ArrowDown');
  await page.locator('.placement-what-if tbody').waitFor();
  await type(page, 'Gain of filter A', '-12');
  await type(page, 'Gain of filter B', '-12');
  await type(page, 'Q of filter A', '0.4');
  await type(page, 'Q of filter B', '0.4');
  await page.getByLabel('Filter C is on').uncheck();
  await settled(page);
  const lowest = (await saved(page)).curves.eqDb.reduce((a, b) => Math.min(a, b));
  expect(lowest).toBeLessThan(-15);
  const bottom = await page.locator('#clip-lower rect').evaluate((rect) => {
    const { y, height } = rect as SVGRectElement;
    return y.baseVal.value + height.baseVal.value;
  });
  const ys = [...(await page.locator('.curve-sum').getAttribute('d'))!.matchAll(/ ([\d.]+)/g)].map(
    ([, y]) => +y!,
  );
  expect(Math.max(...ys)).toBeLessThanOrEqual(bottom);
  const shown = await page
    .locator('#will-give .figures div', { hasText: 'Error, all of it' })
    .locator('dd')
    .first()
    .textContent();
  expect(await page.locator('.placement-what-if tbody td').first().textContent()).toBe(shown);
  expect(await accessibilityFaults(page)).toEqual([]);
  await page.context().close();
});

test('what to enter is explained of every type that has it', async () => {
  const { page } = await openApp(app.browser, app.address);
  await settled(page);
  await page.getByLabel('They are for').selectOption('ten-band-bandwidth');
  await settled(page);
  await page.getByText('What to enter').click();
  const caption = (await page.locator('#to-set caption', { hasText: 'octaves' }).textContent())!;
  const types = await page
    .locator('.filters select')
    .evaluateAll((all) =>
      (all as HTMLSelectElement[]).map(({ selectedOptions }) => selectedOptions[0]!.textContent!),
    );
  expect(types.some((type) => /shelf/.test(type))).toBe(true);
  for (const type of types) expect(caption.toLowerCase()).toContain(type.toLowerCase());
  await page.context().close();
});

test('what was refused in a field does not stand in the next worksheet', async () => {
  const { page } = await openApp(app.browser, app.address);
  await settled(page);
  await type(page, 'Bands', 'plenty');
  await page.getByText(/found "plenty", expected a whole number/).waitFor();
  await type(page, 'Gain of filter B', 'nothing');
  await page.locator('.filters [role="alert"]').waitFor();
  await page.getByLabel('Remove filter A').click();
  expect(await page.getByLabel('Gain of filter B').inputValue()).not.toBe('nothing');
  await page.locator('.menu summary').click();
  await page.getByRole('button', { name: 'New, empty' }).click();
  await page.waitForFunction(() => document.querySelectorAll('.files li').length === 0);
  expect(await page.getByLabel('Bands', { exact: true }).inputValue()).toBe('');
  expect(await page.locator('#to-set [role="alert"]').count()).toBe(0);
  await page.context().close();
});

test('at 390 pixels no mark hides another or the axis, and the list of worksheets is all in sight', async () => {
  const { page } = await openApp(app.browser, app.address, { viewport: { width: 390, height: 844 } });
  await settled(page);
  const overlaps = await page.locator('.finding-mark > :first-child').evaluateAll((marks) => {
    const boxes = marks.map((mark) => mark.getBoundingClientRect());
    return boxes.flatMap((a, i) =>
      boxes
        .slice(i + 1)
        .filter(
          (b) =>
            Math.hypot(a.x + a.width / 2 - b.x - b.width / 2, a.y + a.height / 2 - b.y - b.height / 2) < 18,
        ),
    ).length;
  });
  expect(await page.locator('.finding-mark').count()).toBeGreaterThan(8);
  expect(overlaps).toBe(0);
  const letters = await page
    .locator('.pennant text')
    .evaluateAll((all) =>
      all
        .map((each) => each.getBoundingClientRect())
        .map(({ x, y, width, height }) => [x + width / 2, y + height / 2]),
    );
  expect(letters.length).toBeGreaterThan(6);
  letters.forEach(([x, y], i) => {
    for (const [otherX, otherY] of letters.slice(i + 1))
      expect(Math.hypot(x! - otherX!, y! - otherY!)).toBeGreaterThan(16);
  });
  // Nor does a filter's letter hide the frequencies below its panel.
  await type(page, 'Gain of filter A', '-10');
  const panel = (await page.locator('#clip-lower rect').evaluate((rect) => {
    const { y, height } = rect as SVGRectElement;
    return y.baseVal.value + height.baseVal.value;
  }))!;
  const { top } = await page
    .locator('.overlay')
    .evaluate((overlay) => overlay.getBoundingClientRect().toJSON());
  const pennant = (await page.locator('.pennant polygon').first().boundingBox())!;
  expect(pennant.y + pennant.height).toBeLessThanOrEqual(top + panel + 2);

  await page.locator('.menu summary').click();
  const { x, width } = (await page.locator('.menu-body').boundingBox())!;
  expect(x).toBeGreaterThanOrEqual(0);
  expect(x + width).toBeLessThanOrEqual(390);
  await page.context().close();
});

describe('the worksheets of this browser', () => {
  test('are told apart by their measurements, and go for good only when asked twice', async () => {
    const { page } = await openApp(app.browser, app.address);
    await add(page, [measured('kitchen.txt')], 1);
    await page.locator('.menu summary').click();
    await page.getByText('Kept in this browser.', { exact: true }).waitFor();
    await page.getByRole('button', { name: 'New, empty' }).click();
    await page.locator('.menu summary').click();
    await page.locator('.kept li').nth(1).waitFor();
    const names = () => page.locator('.kept .linklike').allTextContents();
    expect(await names()).toEqual(['Untitled worksheet', 'kitchen.txt']);
    await page.locator('.kept').getByRole('button', { name: 'kitchen.txt', exact: true }).click();
    await settled(page);
    // The list makes way for the worksheet that was chosen.
    expect(await page.locator('.menu-body').isVisible()).toBe(false);
    await page.locator('.menu summary').click();
    const [file] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save as a file' }).click(),
    ]);
    expect(file.suggestedFilename()).toBe('kitchen-txt-simulated.nullwise.json');
    await page.getByRole('button', { name: 'Remove: kitchen.txt' }).click();
    await page.getByRole('button', { name: 'Remove: Untitled worksheet' }).focus();
    await page.getByRole('button', { name: 'Remove: kitchen.txt' }).click();
    expect(await names()).toHaveLength(2);
    await page.getByRole('button', { name: 'Remove for good: kitchen.txt' }).click();
    await page.waitForFunction(() => document.querySelectorAll('.kept li').length === 1);
    await page.context().close();
  });

  test('keep the name under which another window made a copy of them, and what is kept there is seen here', async () => {
    const { page } = await openApp(app.browser, app.address);
    await add(page, [measured('hall.txt')], 1);
    const kept = async (of: Page) => {
      await of.locator('.menu summary').click();
      await of.getByText('Kept in this browser.', { exact: true }).waitFor();
      const names = await of.locator('.kept .linklike').allTextContents();
      await of.locator('.menu summary').click();
      return names;
    };
    await kept(page);
    const other = await page.context().newPage();
    await other.goto(app.address);
    await settled(other);
    await type(other, 'Bands', '4');
    await settled(other);
    await kept(other);
    const copy = 'Untitled worksheet (from another window)';
    await type(page, 'Bands', '5');
    await page.getByText(`kept as “${copy}”`).waitFor();
    expect(await page.getByLabel('Name of this worksheet').inputValue()).toBe(copy);
    await type(page, 'Bands', '3');
    await settled(page);
    expect((await kept(page)).sort()).toEqual([copy, 'hall.txt']);
    await other.locator('.menu summary').click();
    await other.locator('.kept li').nth(1).waitFor();
    await page.context().close();
  });
});

test('a mask takes more points, each between two others, and says of a number what was expected', async () => {
  const { page } = await openApp(app.browser, app.address);
  await settled(page);
  await page.getByRole('button', { name: 'Hold it against a tolerance mask' }).click();
  await page.getByText('The mask', { exact: true }).click();
  for (let i = 0; i < 5; i++) await page.getByRole('button', { name: 'Add a point' }).click();
  expect(await page.locator('#should-be [role="status"]').textContent()).toMatch(/^The expected result/);
  await type(page, 'Frequency of mask point 2', '0');
  await page.locator('#should-be [role="alert"]').waitFor();
  expect(await page.locator('#should-be [role="alert"]').textContent()).toMatch(/^found "0".*expected/);
  await page.context().close();
});

test('a new, empty worksheet shows no curve of the one before, and waits for no search', async () => {
  const { page, complaints } = await openApp(app.browser, app.address, { plotting: true });
  await page.waitForSelector('.plot[data-drawn]');
  const grid = page.locator('.plot .scatterlayer').first();
  expect(await grid.isVisible()).toBe(true);
  await page.locator('.menu summary').click();
  await page.getByRole('button', { name: 'New, empty' }).click();
  await page.getByText('The curves appear here when a measurement has been read.').waitFor();
  expect(await grid.isVisible()).toBe(false);
  await page.setViewportSize({ width: 390, height: 844 });
  const begin = (await page.getByRole('button', { name: 'Add your own files' }).boundingBox())!;
  expect(begin.y + begin.height).toBeLessThan(844);
  await page.setViewportSize({ width: 1440, height: 900 });
  for (const name of ['Save PNG', 'Save SVG', 'Zoom in'])
    expect(await page.getByRole('button', { name }).count()).toBe(0);
  expect(await page.getByRole('button', { name: 'Add a filter' }).isDisabled()).toBe(true);
  expect(await page.locator('#hand-over .lead').textContent()).toMatch(/once filters have been fitted/);
  expect(await page.locator('#to-set').textContent()).not.toContain('No filter is needed');
  await add(page, [measured('mine.txt')], 1);
  expect(await grid.isVisible()).toBe(true);
  expect(await page.getByRole('button', { name: 'Save SVG' }).isEnabled()).toBe(true);
  expect(complaints).toEqual([]);
  await page.context().close();
});
