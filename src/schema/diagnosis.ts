import type { z } from 'zod';
import { designSchema } from './design.js';

/** `diagnose --json`: what a design says before any filter is fitted. */
export const diagnosisSchema = designSchema.pick({
  schemaVersion: true,
  title: true,
  range: true,
  findings: true,
  notes: true,
  warnings: true,
});

export type DiagnosisReport = z.infer<typeof diagnosisSchema>;
