import type { z } from 'zod';
import { InputError } from '../inputError.js';
import { issueWords } from './issueWords.js';
import { type JsonPath, type JsonText, parseJsonText } from './jsonText.js';
import { type Problem, problemsMessage } from './problems.js';

/**
 * Reads JSON text through a schema.
 *
 * @param fileName for the message
 * @throws InputError with every problem, each with its line and path
 */
export function readJson<T>(schema: z.ZodType<T>, text: string, fileName: string): T {
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
