import type { Bands } from '../bank/bands.js';
import type { Objective } from '../objective/objective.js';
import type { FitGrid } from '../problem/fitGrid.js';
import type { Engine } from './engine.js';
import { type KernelExports, kernelExports } from './kernelExports.js';

const BYTES_PER_ZONE = 24;
/** No EQ reaches it. */
const NO_CAP_DB = 1e9;

/** The objective whose grid lies in the program's memory, and the engine for it. */
let held: { readonly objective: Objective; readonly engine: Engine } | undefined;

/** Undefined where there is no WebAssembly. */
export function webAssemblyEngine(objective: Objective): Engine | undefined {
  const program = kernelExports();
  if (!program) return undefined;
  if (held?.objective !== objective) held = { objective, engine: lay(program, objective) };
  else putBackground(program, objective);
  return held.engine;
}

function lay(program: KernelExports, objective: Objective): Engine {
  const { grid, options } = objective;
  const maxBands = objective.gradient.length / 3;
  const inside = grid.zones.reduce((sum, zone) => sum + zone.inside.length, 0);
  program.layOut(grid.frequencyHz.length, grid.errorPoints, maxBands, grid.zones.length, inside);
  program.set(
    grid.sampleRateHz,
    options.penalty,
    options.restraint,
    options.levelRestraint,
    options.maxLevelLossDb,
    options.levelDb !== undefined,
    options.levelDb ?? 0,
    options.cutToReach ?? false,
  );
  putGrid(program, grid);
  putBackground(program, objective);
  const { buffer } = program.memory;
  const numbers = 3 * maxBands;
  const types = new Uint8Array(buffer, program.types.value, maxBands);
  const values = new Float64Array(buffer, program.values.value, numbers);
  const eqDb = new Float64Array(buffer, program.eqDb.value, objective.eqDb.length);
  const residual = new Float64Array(buffer, program.residual.value, objective.residual.length);
  const value = (bands: Bands) => {
    types.set(bands.types);
    values.set(bands.values);
    return program.value(bands.types.length);
  };
  return {
    value,
    evaluate(bands) {
      const sum = value(bands);
      objective.eqDb.set(eqDb);
      objective.residual.set(residual);
      return sum;
    },
    linearize(bands) {
      program.linearize(bands.types.length);
    },
    gradient: new Float64Array(buffer, program.gradient.value, numbers),
    normalMatrix: new Float64Array(buffer, program.normalMatrix.value, numbers * numbers),
    free: new Int32Array(buffer, program.free.value, numbers),
    solve: (n, count, damping) => program.solve(n, count, damping) !== 0,
    step: new Float64Array(buffer, program.step.value, numbers),
  };
}

function putGrid(program: KernelExports, grid: FitGrid): void {
  const { buffer } = program.memory;
  const even = grid.frequencyHz.length + (grid.frequencyHz.length & 1);
  const put = (address: number, numbers: Float64Array, beyond: number) =>
    new Float64Array(buffer, address, even).fill(beyond, numbers.length).set(numbers);
  put(program.warped.value, grid.warped, grid.warped.at(-1)!);
  put(program.weight.value, grid.weight, 0);
  put(program.deviationDb.value, grid.deviationDb, 0);
  put(program.capDb.value, grid.capDb, NO_CAP_DB);
  put(program.meanShare.value, grid.meanShare, 0);
  new Float64Array(buffer, program.backgroundDb.value, even).fill(0);
  const view = new DataView(buffer);
  let next = 0;
  grid.zones.forEach((zone, z) => {
    const at = program.zones.value + BYTES_PER_ZONE * z;
    view.setFloat64(at, zone.maxFallDb, true);
    view.setInt32(at + 8, zone.edges[0], true);
    view.setInt32(at + 12, zone.edges[1], true);
    view.setInt32(at + 16, next, true);
    for (const p of zone.inside) view.setInt32(program.inside.value + 4 * next++, p, true);
    view.setInt32(at + 20, next, true);
  });
}

function putBackground(program: KernelExports, { backgroundDb }: Objective): void {
  new Float64Array(program.memory.buffer, program.backgroundDb.value, backgroundDb.length).set(backgroundDb);
}
