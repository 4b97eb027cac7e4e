import type { Engine } from '../../src/fit/kernel/engine.js';

/** The one file's policy lets nothing be compiled: designs are reckoned in TypeScript, to the same digits. */
export const webAssemblyEngine = (): Engine | undefined => undefined;
