import { conventionFor, type QConventionName, settingFromFilter } from '../../filter/qConventions.js';
import { InputError } from '../../inputError.js';
import type { Correction } from '../../schema/correction.js';
import { stableJson } from '../json/stableJson.js';
import { cleanText } from '../words/cleanText.js';
import { columnDecimals } from '../words/columnDecimals.js';
import { filterTypeName } from '../words/filterTypeName.js';
import { formatInputGain } from '../words/formatInputGain.js';
import { NO_FILTERS } from '../words/noFilters.js';
import { padTable, type TextColumn } from '../words/padTable.js';
import { insideLines } from '../words/settingsLines.js';
import { wrapText } from '../words/wrapText.js';
import { csvField } from './csvField.js';
import { wholeBankFields, wholeBankHeader } from './wholeBankFields.js';

const WIDTH = 100;

/** A filter with its Q in a chosen convention. */
interface ListedFilter {
  readonly band?: number;
  readonly type: Correction['filters'][number]['type'];
  readonly frequencyHz: number;
  readonly gainDb: number;
  /** In the listing's convention. */
  readonly setting: number;
}

/** The filters of a design in one Q convention. */
export interface FilterListing {
  readonly design: Correction;
  readonly convention: QConventionName;
  readonly filters: readonly ListedFilter[];
}

/**
 * @param convention the device's where the design was made for one, else the cookbook's, unless given
 * @throws InputError where a filter has no value in the convention
 */
export function filterListing(design: Correction, convention?: QConventionName): FilterListing {
  const own = design.device?.qConvention ?? 'cookbook';
  const name = convention ?? own;
  const settings = name === own ? design.deviceSettings : undefined;
  return {
    design,
    convention: name,
    filters: design.filters.map((filter, i) => {
      const setting = settings?.[i]?.q ?? settingFromFilter(filter, name, design.sampleRateHz);
      if (setting === undefined) {
        throw new InputError(
          `filters[${i}] (${filterTypeName(filter.type)}, ${filter.frequencyHz} Hz, ${filter.gainDb} dB): it has no ` +
            `value as "${name}" (${conventionFor(name, filter.type).words}); choose another Q convention`,
        );
      }
      const { type, frequencyHz, gainDb } = filter;
      const band = design.deviceSettings?.[i]?.band;
      return { ...(band !== undefined && { band }), type, frequencyHz, gainDb, setting };
    }),
  };
}

/** What the numbers in the last column mean; two lines where shelves mean another thing than peaking filters. */
export function conventionLines({ convention, filters }: FilterListing): string[] {
  const types = [...new Set(filters.map(({ type }) => type))];
  const meanings = new Map<string, string[]>();
  for (const type of types) {
    const { words, source } = conventionFor(convention, type);
    const meaning = `${words} (${source})`;
    meanings.set(meaning, [...(meanings.get(meaning) ?? []), filterTypeName(type)]);
  }
  const single = meanings.size === 1;
  return [...meanings].map(([meaning, names]) => `Q${single ? '' : ` of ${names.join(', ')}`}: ${meaning}`);
}

/** "bandwidthOctaves", and "; shelves: cookbook" where the convention does not speak of them. */
function conventionName({ convention, filters }: FilterListing): string {
  const other = filters.find(({ type }) => conventionFor(convention, type).name !== convention);
  if (other === undefined) return convention;
  return `${convention}; ${other.type === 'peaking' ? 'peaking' : 'shelves'}: cookbook`;
}

function settingHeading({ convention, filters }: FilterListing): string {
  const units = new Set(filters.map(({ type }) => conventionFor(convention, type).unit));
  const [unit] = units;
  if (units.size === 1 && unit !== '') return `Bandwidth (${unit})`;
  return convention === 'shelfSlope' ? 'Q or slope' : units.size > 1 ? 'Q or bandwidth' : 'Q';
}

function columns(listing: FilterListing): TextColumn[] {
  const { filters, design } = listing;
  const numbers = (of: (filter: ListedFilter) => number, decimals: number) =>
    columnDecimals(filters.map(of), decimals);
  const first = design.device ? 'Band' : 'No.';
  return [
    { heading: first, align: 'right', cells: filters.map(({ band }, i) => String(band ?? i + 1)) },
    { heading: 'Type', align: 'left', cells: filters.map(({ type }) => filterTypeName(type)) },
    { heading: 'Frequency (Hz)', align: 'right', cells: numbers((f) => f.frequencyHz, 3) },
    { heading: 'Gain (dB)', align: 'right', cells: numbers((f) => f.gainDb, 3) },
    { heading: settingHeading(listing), align: 'right', cells: numbers((f) => f.setting, 4) },
  ];
}

function settings(listing: FilterListing): string[] {
  const { design } = listing;
  return [
    ...(design.device ? [`Device: ${cleanText(design.device.name)}`] : []),
    `Sample rate: ${design.sampleRateHz} Hz`,
    `Input gain: ${formatInputGain(design.inputGainDb)}, ahead of the filters`,
    ...insideLines(design),
    ...conventionLines(listing),
  ];
}

/** Plain text: what has to be set, and a table of the filters. */
export function listingAsTable(listing: FilterListing): string {
  const lines = settings(listing).map((line) => wrapText(line, WIDTH, '  '));
  const table = listing.filters.length === 0 ? [NO_FILTERS] : padTable(columns(listing));
  return `${[cleanText(listing.design.title), '', ...lines, '', ...table].join('\n')}\n`;
}

export function listingAsMarkdown(listing: FilterListing): string {
  const cols = columns(listing);
  const row = (cells: readonly string[]) => `| ${cells.join(' | ')} |`;
  const escaped = (text: string) => text.replace(/[\\`*_[\]<>|#&~]/g, '\\$&');
  return `${[
    `# ${escaped(cleanText(listing.design.title))}`,
    '',
    ...settings(listing).map((line) => `- ${escaped(line)}`),
    '',
    ...(listing.filters.length === 0
      ? [NO_FILTERS]
      : [
          row(cols.map(({ heading }) => heading)),
          row(cols.map(({ align }) => (align === 'right' ? '---:' : '---'))),
          ...listing.filters.map((_, i) => row(cols.map(({ cells }) => cells[i]!))),
        ]),
  ].join('\n')}\n`;
}

/** RFC 4180; the convention is in the header of its column and in words in each row, every digit in the numbers. */
export function listingAsCsv(listing: FilterListing): string {
  const header = [
    listing.design.device ? 'band' : 'number',
    'type',
    'frequency (Hz)',
    'gain (dB)',
    `${settingHeading(listing)} [${conventionName(listing)}]`,
    'meaning of that number',
    ...wholeBankHeader,
  ];
  const rows = listing.filters.map(({ band, type, frequencyHz, gainDb, setting }, i) => [
    String(band ?? i + 1),
    filterTypeName(type),
    String(frequencyHz),
    String(gainDb),
    String(setting),
    conventionFor(listing.convention, type).words,
    ...wholeBankFields(listing.design),
  ]);
  return [header, ...rows].map((row) => `${row.map(csvField).join(',')}\r\n`).join('');
}

export function listingAsJson(listing: FilterListing): string {
  const { design, convention, filters } = listing;
  return stableJson({
    schemaVersion: 1,
    title: cleanText(design.title),
    device: design.device?.name,
    sampleRateHz: design.sampleRateHz,
    inputGainDb: design.inputGainDb,
    headroomDb: design.device?.headroomDb,
    delay: design.device?.delay,
    qConvention: convention,
    qMeaning: conventionLines(listing),
    filters: filters.map(({ setting, ...rest }) => ({ ...rest, q: setting })),
  });
}
