import type { Expression } from './scanExpression.js';
import type { UnitTable } from './unitTables.js';

/**
 * Reckons what the unit tables cannot read.
 *
 * @param expression what a person wrote, scanned
 * @param table kind of quantity that is wanted
 * @param refuse told, where there is something to say, why there is no such quantity ("no unit "x" is known")
 * @returns the value in the SI unit of `table`, finite
 */
export type UnitEngine = (
  expression: Expression,
  table: UnitTable,
  refuse: (reason?: string) => never,
) => number;

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
