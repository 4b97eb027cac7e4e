// Finds the Chromium that the browser tests drive; run as a script, installs one where none is found.
// Plain JavaScript, because `npm test` runs it before anything is compiled.
import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync, readFileSync, statSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

const COMMANDS = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome'];
const FIXED_PLACES = [
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe',
];

function isExecutable(path) {
  try {
    accessSync(path, constants.X_OK);
    return statSync(path).isFile();
  } catch {
    return false;
  }
}

/** Path of a Chromium: `NULLWISE_CHROMIUM`, else one on the PATH, else the one the test library installed. */
export function findChromium() {
  const named = process.env.NULLWISE_CHROMIUM;
  if (named) {
    if (!isExecutable(named))
      throw new Error(`NULLWISE_CHROMIUM names ${named}, which is not an executable file.`);
    return named;
  }
  const folders = (process.env.PATH ?? '').split(delimiter).filter(Boolean);
  const onPath = COMMANDS.flatMap((command) => folders.map((folder) => join(folder, command)));
  return [...onPath, ...FIXED_PLACES, chromium.executablePath()].find(isExecutable);
}

function isDebianRoot() {
  if (process.platform !== 'linux' || process.getuid?.() !== 0 || !existsSync('/etc/os-release'))
    return false;
  return /^ID(_LIKE)?=.*debian/m.test(readFileSync('/etc/os-release', 'utf8'));
}

/** Runs one command with its output on our standard error; true when it ended well. */
function run(command, args) {
  console.error(`> ${command} ${args.join(' ')}`);
  const windows = process.platform === 'win32';
  const { status } = spawnSync(command, args, { stdio: ['ignore', 2, 2], shell: windows });
  return status === 0;
}

function install() {
  if (isDebianRoot()) {
    run('apt-get', ['update']);
    if (run('apt-get', ['install', '-y', '--no-install-recommends', 'chromium'])) return;
  }
  run('npx', ['--no-install', 'playwright-core', 'install', 'chromium']);
}

/** Path of a Chromium, installing one where none is found; throws an Error that says what to install. */
export function ensureChromium() {
  const found = findChromium();
  if (found) return found;
  console.error('The browser tests need a Chromium and none was found; installing one.');
  install();
  const installed = findChromium();
  if (installed) return installed;
  throw new Error(
    'The browser tests need a Chromium and none could be installed. Install one by hand, with\n' +
      '  apt-get install chromium                  (Debian, as root)\n' +
      '  npx playwright-core install chromium      (elsewhere)\n' +
      'or name an existing one in the environment variable NULLWISE_CHROMIUM.',
  );
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  try {
    ensureChromium();
  } catch (error) {
    console.error(error.message);
    process.exitCode = 1;
  }
}
