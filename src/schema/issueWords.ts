import type { z } from 'zod';
import { found } from './found.js';

type Issue = z.core.$ZodIssue;

/** Messages that the schema library made up itself; those with words of our own begin otherwise. */
const LIBRARY_WORDS = /^(Invalid|Too (small|big))\b/;

/** "found …, expected …" for an issue of a schema that has no words of its own for it. */
export function issueWords(issue: Issue, value: unknown): string {
  if (!LIBRARY_WORDS.test(issue.message)) return issue.message;
  const expected = expectedWords(issue);
  if (expected === undefined) return issue.message;
  const input = issue.path.reduce<unknown>(
    (part, key) => (part as Record<PropertyKey, unknown> | null | undefined)?.[key],
    value,
  );
  return `${found(input)}, expected ${expected}`;
}

function expectedWords(issue: Issue): string | undefined {
  switch (issue.code) {
    case 'invalid_type':
      return kindWords[issue.expected] ?? issue.expected;
    case 'invalid_value': {
      const values = issue.values.map(String).join(', ');
      return issue.values.length > 1 ? `one of ${values}` : values;
    }
    case 'too_small':
      return amount(issue.origin, issue.inclusive === false ? 'more than' : 'at least', issue.minimum);
    case 'too_big':
      return amount(issue.origin, issue.inclusive === false ? 'less than' : 'at most', issue.maximum);
    case 'invalid_union':
      return unionWords(issue.errors.map((issues) => issues[0]));
    default:
      return undefined;
  }
}

/** The kinds that may stand there; of an alternative that has the right kind, what it lacks. */
function unionWords(firsts: readonly (Issue | undefined)[]): string | undefined {
  const issues = firsts.filter((issue) => issue !== undefined);
  const near = issues.find(({ code, path }) => code !== 'invalid_type' && path.length === 0);
  if (near) return expectedWords(near);
  const kinds = issues.filter(({ path }) => path.length === 0).map(expectedWords);
  return kinds.length > 0 ? [...new Set(kinds)].join(' or ') : undefined;
}

function amount(origin: string, bound: string, count: number | bigint): string {
  if (origin === 'array') return `a list of ${bound} ${count}`;
  if (origin === 'string')
    return `a text of ${bound} ${count} ${Number(count) === 1 ? 'character' : 'characters'}`;
  return `${bound} ${count}`;
}

const kindWords: Readonly<Record<string, string>> = {
  array: 'a list',
  object: 'an object {…}',
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
};
