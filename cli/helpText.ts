import { wrapText } from '../src/export/words/wrapText.js';

/** What a command says of itself below the list of its options. */
export interface HelpParts {
  /** What goes in. */
  readonly takes: string;
  /** What comes out, and where. */
  readonly gives: string;
  /** What the options alone do not tell, a paragraph each. */
  readonly notes?: readonly string[];
  /** Where the work can hurt someone, break something or mislead. */
  readonly caution?: string;
  /** Command lines that run as they stand, given files of these names; the tests run them all. */
  readonly examples: readonly [string, ...string[]];
}

const WIDTH = 100;

/** The long part of a command's help, for `addHelpText('after', …)`. */
export function helpText({ takes, gives, notes = [], caution, examples }: HelpParts): string {
  const paragraphs = [`In: ${takes}`, `Out: ${gives}`, ...notes, ...(caution ? [`Caution: ${caution}`] : [])];
  return [
    '',
    ...paragraphs.map((paragraph) => `${wrapText(paragraph, WIDTH)}\n`),
    'Examples:',
    ...examples.map((example) => `  ${example}`),
  ].join('\n');
}
