import type { Bands } from '../../bank/bands.js';
import { bankValues } from '../../bank/bankKernel.js';
import type { Objective } from '../../objective/objective.js';
import { lowerEdge } from '../../problem/fitGrid.js';
import { objectiveValue } from '../../refinement/objectiveValue.js';
import type { Atoms } from './atoms.js';

/**
 * Weight of a point at which a limit presses, beside that of one that carries error. In the linear model the limit holds
 * the EQ from both sides, so it must not hold it as firmly as it does from one.
 */
const FIRMNESS = 20;
/** What gives way by less is not pressed. */
const LEAST_DB = 1e-4;

/**
 * The same atoms for a search about a bank whose EQ some limits hold down: the EQ is wanted near those limits at the points
 * where they give way, and by as much beyond them as balances the error that they cost. Without that, sets are found that
 * break limits by decibels, since a protected zone weighs nothing.
 */
export function pressedAtoms(base: Atoms, objective: Objective, bands: Bands): Atoms {
  const { grid } = objective;
  objectiveValue(objective, bands);
  const over = overLimits(objective);
  const at = Array.from(over.keys()).filter((p) => Math.abs(over[p]!) > LEAST_DB);
  const points = at.length;
  if (points === 0) return base;
  const root = Math.sqrt(FIRMNESS / grid.errorPoints);
  const beyond = 1 + objective.options.penalty / FIRMNESS;
  const wanted = at.map((p) => root * (objective.eqDb[p]! - beyond * over[p]!));
  const warped = Float64Array.from(at, (p) => grid.warped[p]!);
  const shapes = new Float64Array(base.list.length * points);
  const energy = base.energy.slice();
  const pull = base.pull.slice();
  const db = new Float64Array(points);
  for (const [k, { type, lnF, gainDb, lnQ }] of base.list.entries()) {
    bankValues(Uint8Array.of(type), Float64Array.of(lnF, gainDb, lnQ), warped, grid.sampleRateHz, db);
    for (let p = 0; p < points; p++) {
      const shape = (root * db[p]!) / gainDb;
      shapes[k * points + p] = shape;
      energy[k]! += shape * shape;
      pull[k]! += shape * wanted[p]!;
    }
  }
  return {
    ...base,
    energy,
    pull,
    wantedSquare: wanted.reduce((sum, db) => sum + db * db, base.wantedSquare),
    products: new Array<Float64Array | undefined>(base.products.length),
    pressed: { base, points, shapes },
  };
}

/** By how much the EQ of the last evaluation is above the cap at each point, or, as a negative number, under a zone's floor. */
function overLimits({ grid, eqDb }: Objective): Float64Array {
  const over = eqDb.map((db, p) => Math.max(0, db - grid.capDb[p]!));
  for (const zone of grid.zones) {
    const floor = eqDb[lowerEdge(zone, eqDb)]! - zone.maxFallDb;
    for (const p of zone.inside) if (eqDb[p]! < floor) over[p] = eqDb[p]! - floor;
  }
  return over;
}
