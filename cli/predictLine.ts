import { relative } from 'node:path';
import type { Design } from '../src/schema/design.js';
import { designDefaults } from '../src/schema/designOptions.js';
import type { Flags } from './readRequest.js';

/** Options of fit that predict takes as well, by their names in camelCase. */
const SHARED = ['calibration', 'channel', 'bands', 'maxBoost'] as const;
/** … and those that it does not have: its forecast is of a fit without them. */
const NOT_SHARED = ['target', 'bassShelf', 'tilt', 'from', 'to', 'device'] as const;

/**
 * Where a finding wants the speaker moved from a surface of the set-up: the command that compares places, as it is typed
 * for these very files. Nothing where there is no set-up or nothing to move.
 */
export function predictLines(
  { findings }: Pick<Design, 'findings'>,
  paths: readonly string[],
  flags: Flags,
): string {
  const { setup, gate } = flags;
  const surfaces = findings
    .filter(({ verdict, kind }) => verdict === 'move' && kind === 'dip')
    .sort((a, b) => a.levelDb - b.levelDb)
    .flatMap(({ cause }) => cause.surface ?? []);
  const [first, ...others] = new Set(surfaces);
  if (setup === undefined || first === undefined) return '';
  const option = (name: string, value: string) => [`--${name}`, quoted(value)];
  const line = [
    'nullwise predict',
    ...paths.map(file),
    ...option('setup', pathHere(setup)),
    ...option('vary', first),
    ...(gate === false ? ['--no-gate'] : gate === undefined ? [] : option('gate', gate)),
    ...SHARED.flatMap((name) => {
      const value = flags[name];
      return value === undefined || (name === 'maxBoost' && value === designDefaults.maxBoost)
        ? []
        : option(kebab(name), name === 'calibration' ? pathHere(String(value)) : String(value));
    }),
  ].join(' ');
  const unlike = NOT_SHARED.filter((name) => flags[name] !== undefined && flags[name] !== 'flat').map(
    (name) => `--${kebab(name)}`,
  );
  return [
    '',
    'To compare places of the speaker by a forecast of the whole curve, before it is moved:',
    `  ${line}`,
    ...(others.length === 0
      ? []
      : [`  (or away from another surface: ${others.map((name) => `--vary ${quoted(name)}`).join(', ')})`]),
    ...(unlike.length === 0 ? [] : [`  (its fits are made without ${unlike.join(', ')})`]),
  ].join('\n');
}

/** As short as it is from here. */
function pathHere(path: string): string {
  const short = relative('', path);
  return short !== '' && short.length < path.length ? short : path;
}

/** A file that would be taken for an option is named from its folder. */
function file(path: string): string {
  const short = pathHere(path);
  return quoted(short.startsWith('-') ? `./${short}` : short);
}

/** For a shell: what is more than letters, digits and the signs of paths stands in quotes. */
function quoted(text: string): string {
  if (/^[\w./:=+@%,-]+$/.test(text)) return text;
  return /[`$\\!"]/.test(text) ? `'${text.replaceAll("'", "'\\''")}'` : `"${text}"`;
}

const kebab = (name: string) => name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
