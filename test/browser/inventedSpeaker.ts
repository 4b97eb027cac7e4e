import type { Page } from 'playwright-core';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Design } from '../../src/schema/design.js';
import { addFiles, handedOver, settled } from './webApp.js';

export interface Given {
  readonly name: string;
  readonly mimeType: string;
  readonly buffer: Buffer;
}

export const given = (name: string, content: string): Given => ({
  name,
  mimeType: 'text/plain',
  buffer: Buffer.from(content),
});

export const GRID_HZ = Float64Array.from({ length: 200 }, (_, i) => 20 * 1000 ** (i / 199));

/** An invented speaker: a box's fall, a peak and a broad dip. */
const SPEAKER = [
  { type: 'peaking', frequencyHz: 420, gainDb: 5, q: 3 },
  { type: 'peaking', frequencyHz: 1500, gainDb: -4, q: 1.5 },
  { type: 'peaking', frequencyHz: 3100, gainDb: 4, q: 2 },
] as const;

export const speakerDb = (filters: Design['filters'] = []) =>
  bankResponseDb([...SPEAKER, ...filters], 48000, GRID_HZ).map(
    (db, i) => 84 + db - 10 * Math.log10(1 + (60 / GRID_HZ[i]!) ** 4),
  );

export const curveText = (levelDb: ArrayLike<number>) =>
  `# simulated\n${Array.from(GRID_HZ, (hz, i) => `${hz.toFixed(3)} ${levelDb[i]!.toFixed(3)}`).join('\n')}\n`;

export const measured = (name: string, filters?: Design['filters']) =>
  given(name, curveText(speakerDb(filters)));

export const surface = (name: string, cm: number) => ({
  name,
  speakerDistance: `${cm} cm`,
  microphoneDistance: `${cm + 100} cm`,
});

export const setup = (name: string, ...surfaces: object[]) =>
  given(name, JSON.stringify({ microphoneDistance: '1 m', surfaces }));

/** Adds files and waits for what comes of them. */
export async function add(page: Page, files: readonly Given[], expected: number): Promise<void> {
  await addFiles(page, [...files]);
  await page.waitForFunction((n) => document.querySelectorAll('.files li').length === n, expected);
  await settled(page);
}

export const saveButton = (page: Page) => page.getByRole('button', { name: 'design.json' });

export const saved = async (page: Page) =>
  JSON.parse(await handedOver(page, () => saveButton(page).click())) as Design;

/** Types into a field, and has it taken. */
export async function type(page: Page, label: string, text: string): Promise<void> {
  await page.getByLabel(label, { exact: true }).fill(text);
  await page.getByLabel(label, { exact: true }).press('Enter');
}
