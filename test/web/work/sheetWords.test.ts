import { expect, test } from 'vitest';
import { sheetWords } from '../../../web/work/sheetWords.js';

test.each([
  ['give that with --from.', 'give that with “Lowest frequency”.'],
  ['allowed (--q-min, --q-max)', 'allowed (“Least Q”, “Greatest Q”)'],
  ['allowed for shelves (--shelf-q-max)', 'allowed for shelves (“Greatest Q of a shelf”)'],
  ['of the walls with --setup.', 'of the walls with “Where the speaker stands”.'],
  ['--sample-rate: found 48000 Hz', '“Sample rate”: found 48000 Hz'],
  ['at the same places as well (--before).', 'at the same places as well (“Without filters, to compare”).'],
  ['curve with --other.', 'curve with “The other speaker”.'],
  ['channel 1 of 2 was read; --channel picks another', 'channel 1 of 2 was read; “Channel” picks another'],
  ['Device "box": its peaking bands', 'Equalizer "box": its peaking bands'],
  ['expected one that the device "box" has', 'expected one that the equalizer "box" has'],
  ['(a device file with "qConvention"', '(an equalizer file with "qConvention"'],
  ['device.json: found no band', 'device.json: found no band'],
  ['a--from.txt, --from.txt and --json', 'a--from.txt, --from.txt and --json'],
])('%s', (written, said) => {
  expect(sheetWords(written)).toBe(said);
});
