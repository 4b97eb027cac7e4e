import type { UnitEngine } from './reckonUnits.js';

let engine: UnitEngine | undefined;
let loading: Promise<void> | undefined;

/** The engine, where it has been loaded. */
export function unitEngine(): UnitEngine | undefined {
  return engine;
}

/**
 * Loads the engine, once. It holds a library whose loading takes longer than most work of the program, and few
 * people write more than numbers with common units; hence only on need.
 */
export function loadUnitEngine(): Promise<void> {
  loading ??= import('./reckonUnits.js').then(
    ({ reckonUnits }) => {
      engine = reckonUnits;
    },
    (error: unknown) => {
      loading = undefined; // a page that was offline may try again
      throw error;
    },
  );
  return loading;
}
