import { styleText } from 'node:util';

type Style = 'red' | 'yellow' | 'dim';

/** `text` in a style where `stream` is a terminal that may show colour (https://no-color.org). */
export function paint(stream: NodeJS.WriteStream, style: Style, text: string): string {
  const { NO_COLOR, TERM } = process.env;
  const plain = !stream.isTTY || Boolean(NO_COLOR) || TERM === 'dumb';
  return plain ? text : styleText(style, text, { validateStream: false });
}

/** An error for the person at the terminal, on standard error. */
export function printError(label: string, message: string): void {
  process.stderr.write(`${paint(process.stderr, 'red', `${label}:`)} ${inert(message)}\n`);
}

/** Names and texts from files may hold what moves a terminal's cursor or turns its line about; line ends stay. */
function inert(message: string): string {
  return message.replace(/(?![\n\t])[\p{Cc}\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu, '\ufffd');
}

/** What a command says while it works and when it is done. */
export interface Terminal {
  /** The result, on standard output. */
  readonly result: (text: string) => void;
  /** One line of a result that comes in pieces, on standard output. */
  readonly line: (text: string) => void;
  /** A message beside the result, on standard error. */
  readonly message: (text: string) => void;
  /** What is being done at the moment; only for someone who watches. */
  readonly progress: (text: string) => void;
}

const nothing = () => {};

/**
 * @param options `json`: standard output carries one JSON document and standard error stays silent;
 *   `quiet`: no words at all, a JSON document still where it was asked for
 */
export function openTerminal(options: { readonly json?: boolean; readonly quiet?: boolean }): Terminal {
  const silent = Boolean(options.quiet || options.json);
  return {
    result: options.quiet && !options.json ? nothing : print,
    line: print,
    message: silent ? nothing : (text) => process.stderr.write(`${inert(text)}\n`),
    progress:
      silent || !process.stderr.isTTY
        ? nothing
        : (text) => process.stderr.write(`${paint(process.stderr, 'dim', text)}\n`),
  };
}

/** To standard output; a reader that has gone (`… | head`) ends the work without a fault, a full disk with words. */
export function print(text: string): void {
  if (!process.stdout.listeners('error').includes(giveUp)) process.stdout.on('error', giveUp);
  process.stdout.write(text.endsWith('\n') ? text : `${text}\n`);
}

function giveUp(error: NodeJS.ErrnoException): never {
  if (error.code === 'EPIPE') process.exit(0);
  printError('error', `standard output: cannot be written (${error.message})`);
  process.exit(2);
}
