import { z } from 'zod';
import { batchJobSchema } from './batch.js';
import { deconvolutionSchema } from './deconvolution.js';
import { designSchema } from './design.js';
import { deviceSchema } from './device.js';
import { diagnosisSchema } from './diagnosis.js';
import { predictionSchema } from './prediction.js';
import { responseSchema } from './response.js';
import { setupSchema } from './setup.js';
import { sweepSchema } from './sweep.js';
import { targetSchema } from './target.js';
import { verificationSchema } from './verification.js';

const schemas = {
  setup: setupSchema,
  target: targetSchema,
  batch: batchJobSchema,
  design: designSchema.meta({ title: 'Nullwise design, as fit --json prints it' }),
  device: deviceSchema,
  diagnosis: diagnosisSchema.meta({ title: 'Nullwise diagnosis, as diagnose --json prints it' }),
  response: responseSchema.meta({ title: 'Nullwise response, as response --json prints it' }),
  sweep: sweepSchema.meta({ title: 'Nullwise sweep, as sweep leaves it beside the WAV file' }),
  prediction: predictionSchema.meta({ title: 'Nullwise prediction, as predict --json prints it' }),
  verification: verificationSchema.meta({ title: 'Nullwise verification, as verify --json prints it' }),
  deconvolution: deconvolutionSchema.meta({
    title: 'Nullwise deconvolution, as deconvolve --json prints it',
  }),
} satisfies Record<string, z.ZodType>;

export type SchemaName = keyof typeof schemas;

/** The file formats that have a JSON Schema. */
export const schemaNames = Object.keys(schemas) as SchemaName[];

/** JSON Schema (draft 2020-12) of a file as it is written on disk. */
export function jsonSchema(name: SchemaName): object {
  return z.toJSONSchema(schemas[name], { io: 'input', target: 'draft-2020-12' });
}
