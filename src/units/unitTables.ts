/** How a unit turns into SI: value·factor + offset. */
export interface UnitScale {
  readonly factor: number;
  readonly offset?: number;
}

/** One kind of quantity and its common units; `UnitEngine` knows the others. */
export interface UnitTable {
  /** What kind of quantity, for messages: "a length". */
  readonly kind: string;
  /** Examples for messages. */
  readonly examples: string;
  /** Spelling in lower case to scale. */
  readonly units: ReadonlyMap<string, UnitScale>;
  /** How the unit engine calls the unit that `units` scales to; absent where it knows no such kind. */
  readonly si?: EngineUnit;
}

type EngineUnit = 'm' | 'Hz' | 's' | 'degC';

type UnitRow = readonly [spellings: string, scale: UnitScale];

function table(kind: string, examples: string, rows: readonly UnitRow[], si?: EngineUnit): UnitTable {
  const units = rows.flatMap(([names, scale]) => names.split(' ').map((name) => [name, scale] as const));
  return { kind, examples, units: new Map(units), ...(si && { si }) };
}

// The inch is 25.4 mm exactly, the foot 12 in, the yard 3 ft (international yard and pound agreement, 1959).
export const INCH_M = 0.0254;

const IMPERIAL_LENGTHS: readonly UnitRow[] = [
  ['in inch inches "', { factor: INCH_M }],
  ["ft foot feet '", { factor: 12 * INCH_M }],
  ['yd yard yards', { factor: 36 * INCH_M }],
];

/** Metres. */
export const lengthUnits = table(
  'a length',
  '"29 cm", "0.29 m" or "11.5 in"',
  [
    ['m metre metres meter meters', { factor: 1 }],
    ['dm decimetre decimetres decimeter decimeters', { factor: 0.1 }],
    ['cm centimetre centimetres centimeter centimeters', { factor: 0.01 }],
    ['mm millimetre millimetres millimeter millimeters', { factor: 0.001 }],
    ...IMPERIAL_LENGTHS,
  ],
  'm',
);

/** Spellings after which lengths are shown in inches. */
export const imperialLengthUnits: ReadonlySet<string> = new Set(
  IMPERIAL_LENGTHS.flatMap(([names]) => names.split(' ')),
);

/** Hertz. */
export const frequencyUnits = table(
  'a frequency',
  '"80 Hz" or "2.5 kHz"',
  [
    ['hz hertz', { factor: 1 }],
    ['khz kilohertz k', { factor: 1000 }],
  ],
  'Hz',
);

/** Degrees Celsius: 0 °C is 273.15 K, 32 °F is 0 °C. */
export const temperatureUnits = table(
  'a temperature',
  '"20 degC", "68 degF" or "293 K"',
  [
    ['degc °c c celsius', { factor: 1 }],
    ['degf °f f fahrenheit', { factor: 5 / 9, offset: (-32 * 5) / 9 }],
    ['k kelvin', { factor: 1, offset: -273.15 }],
  ],
  'degC',
);

/** Seconds. */
export const timeUnits = table(
  'a time',
  '"5 ms" or "0.005 s"',
  [
    ['s sec second seconds', { factor: 1 }],
    ['ms millisecond milliseconds', { factor: 1e-3 }],
    ['us µs microsecond microseconds', { factor: 1e-6 }],
  ],
  's',
);

/** Decibels. */
export const gainUnits = table('a gain in dB', '"-0.8 dB" or "3"', [['db decibel decibels', { factor: 1 }]]);

export const allUnitTables: readonly UnitTable[] = [
  lengthUnits,
  frequencyUnits,
  temperatureUnits,
  timeUnits,
  gainUnits,
];
