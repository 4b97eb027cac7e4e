import type { z } from 'zod';
import { InputError } from '../inputError.js';
import { found } from './found.js';
import { issueWords } from './issueWords.js';
import { type JsonPath, type JsonText, parseJsonText } from './jsonText.js';
import { type Problem, problemsMessage } from './problems.js';

/**
 * Reads JSON text through a schema.
 *
 * @param fileName for the message
 * @param expected what kind of file it should be ("a set-up file in JSON"), for one that holds no object at all
 * @throws InputError with every problem, each with its line and path
 */
export function readJson<T>(schema: z.ZodType<T>, text: string, fileName: string, expected?: string): T {
  if (expected !== undefined) refuseOtherKinds(text, fileName, expected);
  const json = parseJsonText(text, fileName);
  const result = schema.safeParse(json.value);
  if (result.success) return result.data;
  throw new InputError(
    problemsMessage(
      fileName,
      result.error.issues.map((issue) => problemOf(issue, json)),
    ),
  );
}

/** Whoever gave a curve for a set-up is not helped by what is wrong with it as JSON. */
function refuseOtherKinds(text: string, fileName: string, expected: string): void {
  const start = text.search(/\S/);
  if (text[start] === '{') return;
  if (start < 0) throw new InputError(`${fileName}: found an empty file, expected ${expected}`);
  const line = text.slice(0, start).split(/\r\n?|\n/).length;
  const [firstLine = ''] = text.slice(start, start + 1000).split(/[\r\n]/, 1);
  const words = text[start] === '[' ? 'found a list' : found(firstLine.trimEnd());
  throw new InputError(`${fileName} line ${line}: ${words}, expected ${expected}`);
}

function problemOf(issue: z.core.$ZodIssue, json: JsonText): Problem {
  const path = issue.path as JsonPath;
  const unknownKey = issue.code === 'unrecognized_keys' ? issue.keys[0] : undefined;
  const { line } = unknownKey === undefined ? json.locate(path) : json.locateKey([...path, unknownKey]);
  return { line, what: pathText(path), message: issueWords(issue, json.value) };
}

/** "surfaces[1].speakerDistance"; empty for the whole file. */
function pathText(path: JsonPath): string {
  return path
    .map((key, index) => (typeof key === 'number' ? `[${key}]` : index === 0 ? key : `.${key}`))
    .join('');
}
