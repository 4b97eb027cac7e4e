import { expect, test } from 'vitest';
import { add, given, measured, setup, surface, type } from './inventedSpeaker.js';
import { servedApp } from './servedApp.js';
import { openApp, settled } from './webApp.js';

const app = servedApp();

test('who takes rows away by keyboard stays where they were', async () => {
  const { page } = await openApp(app.browser, app.address);
  await add(
    page,
    [measured('one.txt'), measured('after.txt'), given('calibration.txt', '20 0\n20000 0\n')],
    3,
  );
  const focused = () => page.evaluate(() => document.activeElement?.getAttribute('aria-label'));
  const takeAway = async (name: string, left: string) => {
    await page.getByRole('button', { name, exact: true }).press('Enter');
    await page.waitForFunction((label) => document.activeElement?.getAttribute('aria-label') === label, left);
  };
  await takeAway('Take away after.txt', 'Take away calibration.txt');
  await takeAway('Take away calibration.txt', 'Take away one.txt');
  await settled(page);
  const letters = await page
    .getByRole('button', { name: /^Remove filter/ })
    .evaluateAll((all) => all.map((button) => button.getAttribute('aria-label')!));
  const [first, second] = letters;
  await takeAway(first!, first!);
  expect(await page.getByRole('button', { name: /^Remove filter/ }).count()).toBe(letters.length - 1);
  await takeAway(letters.at(-2)!, letters.at(-3) ?? second!);
  expect(await focused()).toMatch(/^Remove filter/);
  await page.getByRole('button', { name: 'Take away one.txt' }).press('Enter');
  await page.waitForFunction(() => document.activeElement?.textContent === 'Add your own files');
  await page.context().close();
});

test('an undo right after Enter takes back what was entered, one while typing only what was typed', async () => {
  const { page } = await openApp(app.browser, app.address);
  await settled(page);
  const gain = page.getByLabel('Gain of filter A', { exact: true });
  const before = await gain.inputValue();
  await type(page, 'Gain of filter A', '-1.25');
  await page.waitForFunction(() =>
    [...document.querySelectorAll<HTMLButtonElement>('.masthead button')].some(
      ({ textContent, disabled }) => textContent === 'Undo' && !disabled,
    ),
  );
  await gain.press('Control+z');
  await page.getByRole('button', { name: 'Undo' }).and(page.locator(':disabled')).waitFor();
  expect(await gain.inputValue()).toBe(before);
  await gain.press('Control+y');
  await page.getByRole('button', { name: 'Redo' }).and(page.locator(':disabled')).waitFor();
  expect(parseFloat(await gain.inputValue())).toBe(-1.25);
  await gain.pressSequentially('9');
  await gain.press('Control+z');
  expect(parseFloat(await gain.inputValue())).toBe(-1.25);
  expect(await page.getByRole('button', { name: 'Undo' }).isDisabled()).toBe(false);
  await page.context().close();
});

test('a length that is being typed stays while a fit comes in, and an undo takes it back once it is entered', async () => {
  const { page } = await openApp(app.browser, app.address);
  await add(page, [measured('one.txt'), setup('room.json', surface('wall behind', 30))], 2);
  const length = page.locator('#stands input[type="text"]').first();
  const before = await length.inputValue();
  await type(page, 'Bands', '3');
  await length.fill('4');
  await settled(page);
  await page.waitForFunction(() => document.querySelectorAll('.filters tbody tr').length <= 3);
  expect(await length.inputValue()).toBe('4');
  await length.pressSequentially('4');
  await length.press('Enter');
  await page.waitForSelector('.curve-what-if-after');
  await length.press('Control+z');
  await page.waitForFunction(
    (value) => document.querySelector<HTMLInputElement>('#stands input[type="text"]')?.value === value,
    before,
  );
  await page.context().close();
});

test('Escape folds the list of worksheets, and the focus goes back to what opened it', async () => {
  const { page } = await openApp(app.browser, app.address);
  await settled(page);
  await page.locator('.menu summary').press('Enter');
  await page.getByRole('button', { name: 'New, empty' }).focus();
  await page.keyboard.press('Escape');
  expect(await page.getByRole('button', { name: 'New, empty' }).isVisible()).toBe(false);
  expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Worksheets');
  // Whoever points beside it folds it too; within it does not.
  await page.locator('.menu summary').click();
  await page.locator('.menu-body p').first().click();
  expect(await page.getByRole('button', { name: 'New, empty' }).isVisible()).toBe(true);
  await page.locator('#conclusion').click({ position: { x: 5, y: 5 } });
  await page.getByRole('button', { name: 'New, empty' }).waitFor({ state: 'hidden' });
  await page.context().close();
});
