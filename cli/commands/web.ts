import { spawn } from 'node:child_process';
import type { Server } from 'node:http';
import { join } from 'node:path';
import type { Command } from 'commander';
import { InputError } from '../../src/inputError.js';
import { helpText } from '../helpText.js';
import { wholeNumber } from '../impulseOptions.js';
import { packageRoot } from '../io/packageRoot.js';
import { openTerminal } from '../io/terminal.js';
import { readWebFiles } from '../webFiles.js';
import { ADDRESS, webServer } from '../webServer.js';

interface WebFlags {
  readonly port: string;
  /** False for --no-open. */
  readonly open: boolean;
  readonly quiet?: boolean;
}

const USUAL_PORT = 8417;

const HELP = helpText({
  takes: 'nothing: files are loaded in the browser.',
  gives: 'the address on standard output, and a browser that opens it where standard output is a terminal.',
  caution: 'listening in the browser starts at the volume that your system is set to: turn it down before.',
  examples: ['nullwise web', 'nullwise web --port 0 --no-open'],
});

/** `nullwise web`: the browser app, served to this machine only, until it is interrupted. */
export function addWeb(program: Command): void {
  program
    .command('web')
    .summary('the worksheet in the browser, on this machine only')
    .description(
      `Serves the worksheet on ${ADDRESS} until it is interrupted (Ctrl+C). Nothing that you load into it leaves the browser.`,
    )
    .option('--port <n>', 'port to listen on; 0 for any that is free', String(USUAL_PORT))
    .option('--no-open', 'do not open a browser')
    .option('--quiet', 'print nothing but errors')
    .addHelpText('after', HELP)
    .action(async ({ port, open, quiet }: WebFlags) => {
      const wanted = wholeNumber('--port', port, 0, 65535);
      const server = webServer(readWebFiles(join(packageRoot(), 'dist', 'web')));
      const address = await listen(server, wanted);
      // Listened for before anyone is told, since a program that waits for the words may interrupt at once.
      const ended = interrupted(server);
      openTerminal({ quiet: Boolean(quiet) }).result(`Nullwise is at ${address} (Ctrl+C ends it)`);
      if (open) openBrowser(address);
      await ended;
    });
}

function listen(server: Server, port: number): Promise<string> {
  return new Promise((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      const taken =
        error.code === 'EADDRINUSE' ? 'it is in use' : error.code === 'EACCES' ? 'it may not be used' : '';
      reject(
        taken
          ? new InputError(`--port: found ${port}, but ${taken}; expected another, or 0 for any that is free`)
          : error,
      );
    });
    server.listen(port, ADDRESS, () => {
      const bound = server.address();
      resolve(`http://${ADDRESS}:${typeof bound === 'object' && bound ? bound.port : port}/`);
    });
  });
}

const OPENERS: Readonly<Partial<Record<NodeJS.Platform, readonly [string, ...string[]]>>> = {
  darwin: ['open'],
  win32: ['cmd', '/c', 'start', ''],
  linux: ['xdg-open'],
};

/** Opens the address in the browser of the user's choice; where that fails the address has been printed. */
function openBrowser(address: string): void {
  const [command, ...args] = OPENERS[process.platform] ?? [];
  if (command === undefined || !process.stdout.isTTY) return;
  const child = spawn(command, [...args, address], { stdio: 'ignore', detached: true });
  child.on('error', () => {});
  child.unref();
}

function interrupted(server: Server): Promise<void> {
  return new Promise((resolve) => {
    const end = () => {
      server.close(() => resolve());
      server.closeAllConnections();
    };
    process.once('SIGINT', end);
    process.once('SIGTERM', end);
  });
}
