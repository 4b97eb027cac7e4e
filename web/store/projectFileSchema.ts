import { z } from 'zod';
import { InputError } from '../../src/inputError.js';
import { GATE_EXPECTED, readGate } from '../../src/measurement/readGate.js';
import { exactObject } from '../../src/schema/exactObject.js';
import { found } from '../../src/schema/found.js';
import { oneOf } from './oneOf.js';

/** Longest content of one file, in characters: 24 MiB of bytes in base64. */
export const MAX_FILE_LENGTH = 32 * 2 ** 20;
export const MAX_FILE_NAME = 255;

export const fileRoles = [
  'position',
  'repeat',
  'placement',
  'calibration',
  'setup',
  'device',
  'after',
  'before',
  'other',
  'promised',
] as const;
const encodings = ['text', 'base64'] as const;

const name = z
  .string({ error: ({ input }) => `${found(input)}, expected the name of the file` })
  .min(1, { error: 'found an empty name, expected the name of the file' })
  .max(MAX_FILE_NAME, {
    error: ({ input }) => `${found(input)}, expected a name of at most ${MAX_FILE_NAME} characters`,
  });

const content = z
  .string({ error: ({ input }) => `${found(input)}, expected the content of the file as text or base64` })
  .max(MAX_FILE_LENGTH, {
    abort: true,
    error: ({ input }) =>
      `found ${String(input).length} characters, expected at most ${MAX_FILE_LENGTH} in one file`,
  });

const noGate = ({ input }: { readonly input?: unknown }) => `${found(input)}, expected ${GATE_EXPECTED}`;
const gate = z.string({ error: noGate }).refine(isGate, { error: noGate }).exactOptional();

const channel = z
  .int({ error: ({ input }) => `${found(input)}, expected the number of a channel, counted from 1` })
  .min(1, { error: ({ input }) => `${found(input)}, expected the number of a channel, counted from 1` })
  .max(65535, { error: ({ input }) => `${found(input)}, expected at most 65535` })
  .exactOptional();

/** One file of a project. */
export const projectFileSchema = exactObject(
  { name, role: oneOf(fileRoles), encoding: oneOf(encodings), content, gate, channel },
  'a file of the project',
).refine(({ encoding, content }) => encoding === 'text' || isBase64(content), {
  path: ['content'],
  error: ({ input }) =>
    `${found((input as { readonly content: string }).content)}, expected base64: groups of four of A–Z, a–z, 0–9, + and /, padded with =`,
});

function isGate(written: string): boolean {
  try {
    readGate(written, 'gate');
    return true;
  } catch (error) {
    if (error instanceof InputError) return false;
    throw error;
  }
}

function isBase64(text: string): boolean {
  return text.length % 4 === 0 && /^[A-Za-z0-9+/]*={0,2}$/.test(text);
}
