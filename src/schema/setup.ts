import { z } from 'zod';
import type { Setup } from '../acoustics/setup.js';
import { InputError } from '../inputError.js';
import { lengthUnitOf } from '../units/lengthUnitOf.js';
import type { MeasuredLength } from '../units/measuredLength.js';
import { parseLengthM } from '../units/parseLengthM.js';
import { parseMeasuredLength } from '../units/parseMeasuredLength.js';
import { parseTemperatureC } from '../units/parseTemperatureC.js';
import { exactObject } from './exactObject.js';
import { found } from './found.js';
import { quantity, within } from './quantity.js';
import { readJson } from './readJson.js';

/** Farther than this no small speaker is measured; most likely a length in cm that lost its unit. */
export const MAX_DISTANCE_M = 50;
const DEFAULT_TEMPERATURE_C = 20;

/** A length with the unit that its writer thinks in. */
export interface WrittenLength {
  readonly length: MeasuredLength;
  readonly unit: 'cm' | 'in';
}

const measuredLength = (minM: number, description: string, examples: string[]) =>
  quantity(
    (text, what): WrittenLength => {
      const length = parseMeasuredLength(text, what);
      if (!(length.m >= minM && length.m <= MAX_DISTANCE_M)) {
        const least = minM > 0 ? 'more than 0' : '0';
        throw new InputError(
          `${what}: ${found(text)}, expected ${least} to ${MAX_DISTANCE_M} m (a length without a unit is in metres)`,
        );
      }
      return { length, unit: lengthUnitOf(text) };
    },
    description,
    examples,
  );

const roomLength = quantity(
  within(parseLengthM, 0.5, 200, '0.5 m to 200 m (a length without a unit is in metres)'),
  'a length of the room',
  ['4.2 m', '14 ft'],
);

const surface = exactObject(
  {
    name: z
      .string({ error: ({ input }) => `${found(input)}, expected a name such as "wall behind"` })
      .trim()
      .min(1, { error: 'found an empty name, expected one such as "wall behind"' })
      .meta({ description: 'what you call this surface', examples: ['wall behind', 'desk'] }),
    speakerDistance: measuredLength(0, 'the distance from the plane to the front baffle of the speaker', [
      '29 cm ± 2 cm',
      '11.5 in',
    ]),
    microphoneDistance: measuredLength(0, 'the distance from the same plane to the microphone', ['129 cm']),
  },
  'a surface',
);

const room = exactObject({ length: roomLength, width: roomLength, height: roomLength }, 'a room');

/** Set-up file: where the speaker and the microphone stood. Lengths may carry a tolerance. */
export const setupSchema = exactObject(
  {
    temperature: quantity(parseTemperatureC, 'the air temperature', ['20 degC', '68 degF']).exactOptional(),
    microphoneDistance: measuredLength(
      Number.MIN_VALUE,
      'the distance straight from the speaker to the microphone',
      ['1 m', '40 in'],
    ),
    baffleWidth: quantity(
      within(parseLengthM, 0.01, 3, '1 cm to 3 m (a length without a unit is in metres)'),
      'the width of the front baffle',
      ['17 cm', '6.5 in'],
    ).exactOptional(),
    surfaces: z
      .array(surface, { error: ({ input }) => `${found(input)}, expected a list of surfaces […]` })
      .meta({ description: 'reflecting planes near the speaker; distances are perpendicular to them' })
      .exactOptional(),
    room: room.exactOptional(),
  },
  'a set-up',
)
  .superRefine((setup, context) => {
    const seen = new Map<string, number>();
    setup.surfaces?.forEach(({ name }, index) => {
      const first = seen.get(name);
      if (first === undefined) {
        seen.set(name, index);
        return;
      }
      context.addIssue({
        code: 'custom',
        path: ['surfaces', index, 'name'],
        message: `found ${JSON.stringify(name)}, which surfaces[${first}] is called already; expected a name of its own`,
      });
    });
  })
  .transform(
    (file): Setup => ({
      temperatureC: file.temperature ?? DEFAULT_TEMPERATURE_C,
      microphoneDistance: file.microphoneDistance.length,
      ...(file.baffleWidth === undefined ? {} : { baffleWidthM: file.baffleWidth }),
      surfaces: (file.surfaces ?? []).map((each) => ({
        name: each.name,
        speakerDistance: each.speakerDistance.length,
        microphoneDistance: each.microphoneDistance.length,
      })),
      ...(file.room === undefined
        ? {}
        : { room: { lengthM: file.room.length, widthM: file.room.width, heightM: file.room.height } }),
      lengthUnit: file.microphoneDistance.unit,
    }),
  )
  .meta({ title: 'Nullwise set-up file' });

/**
 * Reads a set-up file.
 *
 * @param expected as for `readJson`
 * @throws InputError with every problem, each with its line and path
 */
export function readSetup(text: string, fileName: string, expected?: string): Setup {
  return readJson(setupSchema, text, fileName, expected);
}
