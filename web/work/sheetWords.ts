import { optionWords } from './optionWords.js';

/** Where on the sheet is what the command line has as files. */
const PARTS: Readonly<Record<string, string>> = {
  setup: '“Where the speaker stands”',
  device: '“They are for”',
  target: '“What it should be”',
  calibration: '“Microphone calibration”',
  moved: '“Same speaker, other place”',
  repeat: '“First position, repeated”',
  channel: '“Channel”',
  before: '“Without filters, to compare”',
  other: '“The other speaker”',
};

/** A message in which options and files of the command line are called what the sheet calls them. */
export function sheetWords(message: string): string {
  return equalizerWords(message).replace(
    /(?<![\w-])--([a-z]+(?:-[a-z]+)*)(?![\w.-]*\.\w)/g,
    (option, name: string) => {
      const field = name.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());
      const words = optionWords(field);
      return PARTS[name] ?? (words === field ? option : `“${words}”`);
    },
  );
}

/** What its option names a device is an equalizer on the sheet, where none is chosen by an option. */
function equalizerWords(message: string): string {
  return message
    .replace(/\b([Aa]) device(?= (?:file\b|"))/g, '$1n equalizer')
    .replace(/\bdevice(?= (?:file\b|"))/g, 'equalizer')
    .replace(/\bDevice(?= ")/g, 'Equalizer');
}
