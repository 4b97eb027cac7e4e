/** One thing that is wrong with a file or with the options. */
export interface Problem {
  /** Line of the file, counted from 1. */
  readonly line?: number;
  /** Which part it is about ("surfaces[1].name", "--bands"); empty for the whole. */
  readonly what: string;
  /** What was found and what was expected. */
  readonly message: string;
}

/** More than these nobody reads; the rest are counted. */
const MAX_SHOWN = 50;

/** All problems in one message, in the order of the file: one on one line, several as a list. */
export function problemsMessage(source: string, problems: readonly Problem[]): string {
  const sorted = [...problems].sort((a, b) => (a.line ?? 0) - (b.line ?? 0));
  const [only] = sorted;
  if (only && sorted.length === 1) {
    return `${[source, place(only)].filter(Boolean).join(' ')}: ${sentence(only)}`;
  }
  const list = sorted
    .slice(0, MAX_SHOWN)
    .map((problem) => `  ${[place(problem), sentence(problem)].filter(Boolean).join(': ')}`);
  if (sorted.length > MAX_SHOWN) list.push(`  … and ${sorted.length - MAX_SHOWN} more`);
  return `${source}: ${sorted.length} problems\n${list.join('\n')}`;
}

const place = ({ line }: Problem) => (line === undefined ? '' : `line ${line}`);

const sentence = ({ what, message }: Problem) => (what ? `${what}: ${message}` : message);
