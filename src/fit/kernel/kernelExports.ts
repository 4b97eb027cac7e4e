import { KERNEL_BYTES } from './kernelBytes.js';

interface Address {
  readonly value: number;
}

type ArrayName =
  | 'warped'
  | 'weight'
  | 'deviationDb'
  | 'capDb'
  | 'meanShare'
  | 'backgroundDb'
  | 'eqDb'
  | 'residual'
  | 'gradient'
  | 'normalMatrix'
  | 'free'
  | 'step'
  | 'types'
  | 'values'
  | 'zones'
  | 'inside';

/** What the program in `assembly/` gives. */
export interface KernelExports extends Readonly<Record<ArrayName, Address>> {
  readonly memory: { readonly buffer: ArrayBuffer };
  layOut(points: number, errorPoints: number, maxBands: number, zones: number, inside: number): void;
  set(
    sampleRateHz: number,
    penalty: number,
    restraint: number,
    levelRestraint: number,
    maxLevelLossDb: number,
    levelIsGiven: boolean,
    givenLevelDb: number,
    cutToReach: boolean,
  ): void;
  value(bandCount: number): number;
  linearize(bandCount: number): void;
  solve(n: number, count: number, damping: number): number;
}

interface WebAssemblyApi {
  readonly Module: new (bytes: Uint8Array) => object;
  readonly Instance: new (module: object) => { readonly exports: unknown };
}

let program: KernelExports | null | undefined;

/** The program, begun when first asked for; null where WebAssembly, or two numbers at a time in it, is not to be had. */
export function kernelExports(): KernelExports | null {
  if (program === undefined) program = begin();
  return program;
}

function begin(): KernelExports | null {
  const { WebAssembly: api } = globalThis as { readonly WebAssembly?: WebAssemblyApi };
  if (!api) return null;
  try {
    return new api.Instance(new api.Module(KERNEL_BYTES)).exports as KernelExports;
  } catch {
    // Forbidden by the page's policy, or an engine without it.
    return null;
  }
}
