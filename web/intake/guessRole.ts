import { isJsonText } from '../../src/schema/isJsonText.js';
import type { FileRole } from '../store/project.js';

/** What a file turns out to be: a file of the project with a role, or something that goes elsewhere. */
export type Guess = FileRole | 'project' | 'target' | 'design';

/** "after", "with EQ", "filters on", "equalized" and the like, but not "afternoon", "uncorrected" or "without EQ". */
const WITH_FILTERS =
  /after(?!noon)|verif|(?<!un|not[ _-]?)(corrected|equali[sz]ed)|with[ _-]?(the[ _-]?)?(eq|filters?)(?![a-z])|(?<![a-z])(eq|filters?)[ _-]?(on|in)(?![a-z])/i;

/** What a file most likely is, by what is in it and what it is called. The user can say otherwise. */
export function guessRole(name: string, content: string | undefined): Guess {
  const json = content === undefined ? undefined : parsed(content);
  if (json) {
    if ('files' in json && 'options' in json) return 'project';
    if ('breakpoints' in json) return 'target';
    if ('bands' in json && 'gainDb' in json) return 'device';
    if ('filters' in json && 'curves' in json) return 'design';
    return 'setup';
  }
  if (/\.json$/i.test(name)) return 'setup';
  // A target or a calibration is never sound.
  const isSound = /\.wav$/i.test(name);
  if (!isSound && /target|house.?curve/i.test(name)) return 'target';
  if (!isSound && /calib|(^|[^a-z])cal([^a-z]|$)|(^|[^a-z])mic(rophone)?([^a-z]|$)/i.test(name))
    return 'calibration';
  if (WITH_FILTERS.test(name)) return 'after';
  if (/moved|placement|farther|further|elsewhere/i.test(name)) return 'placement';
  return 'position';
}

function parsed(text: string): object | undefined {
  if (!isJsonText(text)) return undefined;
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === 'object' && value !== null && !Array.isArray(value) ? value : undefined;
  } catch {
    return undefined;
  }
}
