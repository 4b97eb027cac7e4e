import { z } from 'zod';
import type { Curve } from '../../src/curve/curve.js';
import { shippedDevices } from '../../src/device/profile/shippedDevices.js';
import { EFFORT_NAMES } from '../../src/fit/effort.js';
import { AIMS } from '../../src/fit/fitPositions.js';
import { type DesignOptions, designOptionsSchema } from '../../src/schema/designOptions.js';
import { found } from '../../src/schema/found.js';
import { targetSchema } from '../../src/schema/target.js';
import type { DrawnTarget, ProjectOptions } from './projectOptions.js';

/** More than this no hand draws; a measured curve as a target belongs into a file of the command line. */
const MAX_BREAKPOINTS = 2000;

/**
 * The options of a fit, by the names and with the bounds of the command line. Only those that are given come out:
 * the defaults of some depend on the device.
 */
export const projectOptionsSchema = z.unknown().transform((input, context): ProjectOptions => {
  if (typeof input !== 'object' || input === null || Array.isArray(input)) {
    return refuse(context, [], `${found(input)}, expected the options of the fit, an object {…}`, input);
  }
  const { target, device, aim, effort, ...numbers } = input as Record<string, unknown>;
  const read = designOptionsSchema.safeParse(numbers);
  if (!read.success) pass(context, [], read.error.issues);
  const drawn = target === undefined ? undefined : readTargetOption(target, context);
  const named = device === undefined ? undefined : readDeviceOption(device, context);
  const aimed = aim === undefined ? undefined : wordOf('aim', aim, AIMS, context);
  const long = effort === undefined ? undefined : wordOf('effort', effort, EFFORT_NAMES, context);
  const others = [drawn, named, aimed, long];
  if (!read.success || others.some((other) => other === z.NEVER)) return z.NEVER;
  const given = Object.keys(numbers) as (keyof DesignOptions)[];
  return {
    ...(drawn !== undefined && { target: drawn }),
    ...(named !== undefined && { device: named }),
    ...(aimed !== undefined && { aim: aimed }),
    ...(long !== undefined && { effort: long }),
    ...Object.fromEntries(given.map((key) => [key, read.data[key]])),
  };
});

function readTargetOption(target: unknown, context: z.core.$RefinementCtx): 'flat' | DrawnTarget {
  if (target === 'flat') return target;
  if (typeof target === 'string') {
    return refuse(context, ['target'], `${found(target)}, expected "flat" or breakpoints`, target);
  }
  const breakpoints = (target as { readonly breakpoints?: unknown } | null)?.breakpoints;
  if (Array.isArray(breakpoints) && breakpoints.length > MAX_BREAKPOINTS) {
    const message = `${found(breakpoints)}, expected at most ${MAX_BREAKPOINTS} breakpoints`;
    return refuse(context, ['target', 'breakpoints'], message, breakpoints);
  }
  const read = targetSchema.safeParse(target);
  if (read.success) return drawnTarget(read.data);
  pass(context, ['target'], read.error.issues);
  return z.NEVER;
}

function readDeviceOption(device: unknown, context: z.core.$RefinementCtx): string {
  const names = shippedDevices.map(({ name }) => name);
  if (typeof device === 'string' && names.includes(device)) return device;
  return refuse(context, ['device'], `${found(device)}, expected one of ${names.join(', ')}`, device);
}

function wordOf<T extends string>(
  field: string,
  written: unknown,
  known: readonly T[],
  context: z.core.$RefinementCtx,
): T {
  const expected = known.join(' or ');
  return (
    known.find((one) => one === written) ??
    refuse(context, [field], `${found(written)}, expected ${expected}`, written)
  );
}

/** A curve as breakpoints. */
export function drawnTarget({ frequencyHz, levelDb }: Curve): DrawnTarget {
  return { breakpoints: Array.from(frequencyHz, (frequency, i) => ({ frequency, level: levelDb[i]! })) };
}

function refuse(context: z.core.$RefinementCtx, path: string[], message: string, input: unknown): never {
  context.addIssue({ code: 'custom', path, message, input });
  return z.NEVER;
}

/** Hands the issues of another schema on; the names of fields stand as they do in the file. */
function pass(context: z.core.$RefinementCtx, path: string[], issues: readonly z.core.$ZodIssue[]): void {
  for (const issue of issues) {
    context.issues.push({
      ...issue,
      path: [...path, ...issue.path],
      message: issue.message
        .replace(/«(\w+)»/g, 'options.$1')
        .replace(
          '; known are ',
          path.length > 0 ? '; known are ' : '; known are target, device, aim, effort, ',
        ),
      input: undefined,
    } as never);
  }
}
