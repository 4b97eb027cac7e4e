import { createBankRunner } from '../../src/filter/runBank.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import type { Design } from '../../src/schema/design.js';

/** An impulse response: a click, a reflection within 20 ms and one beyond, the filters' own response where they are in. */
export function impulse(name: string, filters: Design['filters'] = []) {
  const clicks = new Float64Array(12_000);
  clicks[480] = 0.4;
  clicks[480 + 90] = 0.2;
  clicks[480 + 2000] = -0.25;
  createBankRunner(filters, 48_000, 0)(clicks);
  const { bytes } = writeWav({ channels: [clicks], sampleRateHz: 48_000, format: 'float32' });
  return { name, mimeType: 'audio/wav', buffer: Buffer.from(bytes) };
}
