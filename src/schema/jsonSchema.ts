import { z } from 'zod';
import { designSchema } from './design.js';
import { deviceSchema } from './device.js';
import { responseSchema } from './response.js';
import { setupSchema } from './setup.js';
import { targetSchema } from './target.js';

const schemas = {
  setup: setupSchema,
  target: targetSchema,
  device: deviceSchema,
  design: designSchema.meta({ title: 'Nullwise design, as fit --json prints it' }),
  response: responseSchema.meta({ title: 'Nullwise response, as response --json prints it' }),
} satisfies Record<string, z.ZodType>;

export type SchemaName = keyof typeof schemas;

/** The file formats that have a JSON Schema. */
export const schemaNames = Object.keys(schemas) as SchemaName[];

/** JSON Schema (draft 2020-12) of a file as it is written on disk. */
export function jsonSchema(name: SchemaName): object {
  return z.toJSONSchema(schemas[name], { io: 'input', target: 'draft-2020-12' });
}
