import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { ImpulseResponse } from '../../src/impulse/samples/impulseResponse.js';
import { readWavChannel } from '../../src/measurement/wavFile.js';

const folder = fileURLToPath(new URL('../../../shared/refdata/', import.meta.url));

/** Why a test is skipped, or undefined where the published measurements lie beside the project. */
export const missing = (set: string): string | undefined =>
  existsSync(`${folder}${set}/SOURCE.txt`)
    ? undefined
    : `skipped: the published measurements "${set}" are not beside the project (see SOURCE.txt there)`;

export const referenceImpulse = (path: string): ImpulseResponse =>
  readWavChannel(readFileSync(folder + path), path);

export const referenceJson = (path: string): unknown => JSON.parse(readFileSync(folder + path, 'utf8'));
