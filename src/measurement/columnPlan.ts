/** Which column holds what, and what its unit is worth. */
export interface ColumnPlan {
  readonly frequency: number;
  readonly level: number;
  readonly phase?: number;
  /** 1 for Hz, 1000 for kHz, 1/2π for radians a second. */
  readonly frequencyFactor: number;
  /** To radians. */
  readonly phaseFactor: number;
  /** Names of the columns that are not used. */
  readonly unused: readonly string[];
  /** A level unit that is not dB, as the heading names it. */
  readonly linearUnit?: string;
  /** A name of frequencies that are shares of a sample rate which nobody tells, as the heading has it. */
  readonly perSample?: string;
}

type Kind = 'frequency' | 'level' | 'phase';

const RAD_PER_DEG = Math.PI / 180;
const HZ_PER_RAD_S = 1 / (2 * Math.PI);
/** "rad/s", "krad/sec", "radians per second", "rad·s⁻¹" */
const RAD_A_SECOND = /rad(?:ians?)?\s*(?:\/|per\b|[·.*]|\s)\s*s(?:ec(?:onds?)?)?(?![a-z])/;
const PER_SAMPLE = /(?:rad(?:ians?)?|cycles?)\s*(?:\/|per\s)\s*sa?mp|normali[sz]ed[ -]freq/;
/** Lower case of Ω is ω too, which as a unit stands behind a name: "impedance (ω)". */
const ANGULAR = new RegExp(`angular-freq|kreisfreq|\\bomega\\b|^ω|${RAD_A_SECOND.source}`);
/** Two words that name one column; a "normalized frequency response" is a title. */
const FREQUENCY_OF_A_KIND = /\b(angular|normali[sz]ed)\s+freq(?!\w*\s+resp)/g;
const KIND_WORDS: readonly (readonly [Kind, RegExp])[] = [
  ['frequency', new RegExp(`${ANGULAR.source}|${PER_SAMPLE.source}`)],
  ['frequency', /fr[eé]qu?|frec|k?hz|hertz|^f$/],
  ['phase', /phase|fase|φ|\bdeg|(?<!\d ?)°|grad|\brad/],
  ['level', /level|pegel|niveau|nivel|livello|magn|\bmag\b|ampl|gain|spl\b|\bdb|decibel|respon[sz]e/],
];
/** A cell longer than this is prose. */
const LONGEST_NAME = 40;
const FILLER = /^(?:[*%!]+|in|\/|-|–|[|:]|as|the|\(|\)|\[|\])$/;
const CHANNEL = /^(?:left|right|l|r|ch(?:annel)?[-_]?\d+)$/;
/** What analyzers write beside level and phase. */
const BESIDES =
  /^(?:coh(?:erence)?|distortion|thd(?:\+n)?|noise|deviation|std(?:dev)?|spread)(?:[([].*[)\]])?$/;
const BARE_UNIT = /^[([]?(?:k?hz|k?rad\/s(?:ec)?|db\w*|deg\w*|rad|°)[)\]]?$/;
const LINEAR_UNIT =
  /(?:[([]\s*|\bin\s+)([umµμ]?pa|pascals?|[umµμ]?v|volts?|lin|linear|%|ratio)(?:\s*[)\]]|\s*$)/;

/** Without a heading: frequency in Hz, level in dB, phase in degrees. */
export function defaultColumns(columns: number): ColumnPlan {
  return {
    frequency: 0,
    level: 1,
    ...(columns > 2 && { phase: 2 }),
    frequencyFactor: 1,
    phaseFactor: RAD_PER_DEG,
    unused: [],
  };
}

/**
 * What the headings over `columns` columns of data say about them; the line nearest to the data counts first.
 * Only a line that falls into as many cells, of which one names the frequency and another the level, is taken as a
 * heading: prose that mentions "level versus frequency up to 20 kHz" is not.
 *
 * @returns undefined where no line names the columns
 */
export function namedColumns(headings: readonly string[], columns: number): ColumnPlan | undefined {
  for (const heading of headings.toReversed()) {
    for (const cells of cellsOf(heading.toLowerCase().replace(FREQUENCY_OF_A_KIND, '$1-freq'))) {
      const plan = cells.length === columns ? planOf(cells) : undefined;
      if (plan) return plan;
    }
  }
  return undefined;
}

/** The ways in which a heading may fall into cells: at each separator, and by the kind of its words. */
function cellsOf(heading: string): readonly (readonly string[])[] {
  const parted = ['\t', ';', ',', '|', /\s{2,}/].map((mark) =>
    heading
      .split(mark)
      .map((cell) => cell.replaceAll('"', '').trim())
      .filter((cell) => cell !== ''),
  );
  // Without its unit or marks between columns, "omega level" may be a title with a speaker's name.
  const isName = /\bomega\b/.test(heading) && !RAD_A_SECOND.test(heading);
  return isName ? parted : [...parted, wordGroups(heading), singleWords(heading)];
}

/**
 * One word a column, "freq left right": only kinds, names of channels and of what stands beside levels, since any words of
 * prose could be as many, and no units beside names, "frequency level (db)", which are no columns of their own.
 */
function singleWords(heading: string): readonly string[] {
  const words = heading
    .replace(/^\s*[*%!]+/, '')
    .replaceAll('"', ' ')
    .trim()
    .split(/\s+/);
  const units = words.filter((word) => BARE_UNIT.test(word)).length;
  const named = words.every((word) => kindOf(word) || CHANNEL.test(word) || BESIDES.test(word));
  // "Frequency response deviation" is a title.
  const isTitle = /\bresponse\b/.test(heading) && words.some((word) => BESIDES.test(word));
  return named && !isTitle && (units === 0 || units === words.length) ? words : [];
}

/** Words gathered by kind, "freq in khz level in db" → two cells; empty where a word is neither kind nor filler. */
function wordGroups(heading: string): readonly string[] {
  const groups: { kind: Kind; text: string }[] = [];
  for (const word of heading.replaceAll('"', ' ').split(/[\s,;|]+/)) {
    if (word === '' || FILLER.test(word)) continue;
    const kind = kindOf(word);
    if (!kind) return [];
    const last = groups.at(-1);
    if (last?.kind === kind) last.text += ` ${word}`;
    else groups.push({ kind, text: word });
  }
  return groups.map((g) => g.text);
}

function kindOf(cell: string): Kind | undefined {
  return KIND_WORDS.find(([, words]) => words.test(cell))?.[0];
}

function planOf(cells: readonly string[]): ColumnPlan | undefined {
  const kinds = cells.map((cell) => (cell.length <= LONGEST_NAME ? kindOf(cell) : undefined));
  // "Frequency; Left; Right": after a first column of frequencies the first one of no kind holds the level.
  if (kinds[0] === 'frequency' && !kinds.includes('level')) {
    const nameless = kinds.indexOf(undefined);
    if (nameless > 0) kinds[nameless] = 'level';
  }
  const [frequency, level, phase] = (['frequency', 'level', 'phase'] as const).map((k) => kinds.indexOf(k));
  if (frequency! < 0 || level! < 0 || /\d/.test(cells[frequency!]!)) return undefined;
  const levelCell = cells[level!]!;
  const perSample = PER_SAMPLE.test(cells[frequency!]!) ? cells[frequency!]! : undefined;
  const linearUnit = /\bdb|decibel/.test(levelCell) ? undefined : LINEAR_UNIT.exec(levelCell)?.[1];
  const used = [frequency, level, phase];
  return {
    frequency: frequency!,
    level: level!,
    ...(phase! >= 0 && { phase: phase! }),
    frequencyFactor: frequencyFactor(cells[frequency!]!),
    phaseFactor: phase! >= 0 && /\brad/.test(cells[phase!]!) ? 1 : RAD_PER_DEG,
    unused: cells.filter((_, i) => !used.includes(i)),
    ...(linearUnit !== undefined && { linearUnit }),
    ...(perSample !== undefined && { perSample }),
  };
}

function frequencyFactor(cell: string): number {
  const isAngular = RAD_A_SECOND.test(cell) || (ANGULAR.test(cell) && !/hz|hertz/.test(cell));
  return (/khz|\bkrad/.test(cell) ? 1000 : 1) * (isAngular ? HZ_PER_RAD_S : 1);
}
