import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { jsonSchema, schemaNames } from '../../src/schema/jsonSchema.js';

interface ObjectSchema {
  readonly type: string;
  readonly properties: Readonly<Record<string, { readonly description?: string }>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: boolean;
}

const schemaOf = (name: (typeof schemaNames)[number]) => jsonSchema(name) as ObjectSchema;

describe('jsonSchema', () => {
  test('there is one for the set-up, the target and the design', () => {
    expect(schemaNames).toEqual(expect.arrayContaining(['setup', 'target', 'design']));
  });

  test('describes the set-up as it is written: quantities are texts or numbers, unknown keys are refused', () => {
    const setup = schemaOf('setup');
    expect(setup.required).toEqual(['microphoneDistance']);
    expect(setup.additionalProperties).toBe(false);
    expect(setup.properties.microphoneDistance).toMatchObject({ type: ['string', 'number'] });
    expect(setup.properties.microphoneDistance?.description).toMatch(/straight from the speaker/);
  });

  test('read back, the JSON Schema takes a good set-up and refuses broken ones', () => {
    const reader = z.fromJSONSchema(schemaOf('setup') as Parameters<typeof z.fromJSONSchema>[0]);
    const surface = { name: 'desk', speakerDistance: '18 cm', microphoneDistance: '30 cm' };
    expect(reader.safeParse({ microphoneDistance: '1 m', surfaces: [surface] }).success).toBe(true);
    expect(reader.safeParse({ surfaces: [surface] }).success).toBe(false);
    expect(
      reader.safeParse({ microphoneDistance: '1 m', surfaces: [{ ...surface, nmae: 'x' }] }).success,
    ).toBe(false);
  });

  test('every document that --json prints whole has one, a diagnosis too', () => {
    const { required, properties } = schemaOf('diagnosis');
    expect(required).toEqual(['schemaVersion', 'title', 'range', 'findings', 'warnings']);
    expect(Object.keys(properties)).toContain('notes');
  });

  test('describes the design with all that a result holds', () => {
    const { required } = schemaOf('design');
    for (const key of [
      'schemaVersion',
      'filters',
      'inputGainDb',
      'levelDb',
      'error',
      'findings',
      'warnings',
    ]) {
      expect(required).toContain(key);
    }
  });
});
