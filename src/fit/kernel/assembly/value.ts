import { setBands } from './band';
import { DB_PER_NEPER_OF_POWER } from './constants';
import { log } from './logarithm';
import {
  backgroundDb,
  capDb,
  deviationDb,
  eqDb,
  errorPoints,
  inside,
  meanShare,
  points,
  residual,
  weight,
  zoneCount,
} from './memory';
import { add, both, indexAt, mul, numberAt, PAIR, pairAt, sub, sumOf } from './pairs';
import { bankPower } from './response';
import { givenLevelDb, levelIsGiven, levelRestraint, maxLevelLossDb, penalty, restraint } from './settings';
import { floorDb, insideEnd, insideFrom, zoneAt } from './zones';

/** Mean of the EQ over the range where `value` was last taken. */
export let meanDb: f64 = 0;

/** The objective's value for the bank in `types` and `values`; leaves `eqDb`, `residual` and `meanDb` behind. */
export function value(bandCount: i32): f64 {
  setBands(bandCount);
  bankPower(bandCount);
  const level = both(toDecibels());
  const end = (<usize>points) << 3;
  let sum = both(0);
  let mean = both(0);
  let over2 = both(0);
  for (let o: usize = 0; o < end; o += PAIR) {
    const eq = pairAt(eqDb + o);
    const r = sub(add(pairAt(deviationDb + o), eq), level);
    v128.store(residual + o, r);
    sum = add(sum, mul(pairAt(weight + o), add(mul(r, r), mul(both(restraint), mul(eq, eq)))));
    mean = add(mean, mul(pairAt(meanShare + o), eq));
    const over = f64x2.pmax(both(0), sub(eq, pairAt(capDb + o)));
    over2 = add(over2, mul(over, over));
  }
  meanDb = sumOf(mean);
  const squares = withZones(sumOf(over2));
  const loss = max(0.0, -maxLevelLossDb - meanDb);
  return (
    sumOf(sum) +
    (penalty / <f64>errorPoints) * squares +
    levelRestraint * meanDb * meanDb +
    penalty * loss * loss
  );
}

/** Turns `eqDb` into decibels; returns the level about which the residual is taken. */
function toDecibels(): f64 {
  const end = (<usize>points) << 3;
  let level = both(0);
  for (let o: usize = 0; o < end; o += PAIR) {
    const eq = add(mul(both(DB_PER_NEPER_OF_POWER), log(pairAt(eqDb + o))), pairAt(backgroundDb + o));
    v128.store(eqDb + o, eq);
    level = add(level, mul(pairAt(weight + o), add(pairAt(deviationDb + o), eq)));
  }
  return levelIsGiven ? givenLevelDb : sumOf(level);
}

function withZones(squares: f64): f64 {
  let sum = squares;
  for (let z = 0; z < zoneCount; z++) {
    const zone = zoneAt(z);
    const floor = floorDb(zone);
    const end = insideEnd(zone);
    for (let i = insideFrom(zone); i < end; i++) {
      const under = floor - numberAt(eqDb, indexAt(inside, i));
      if (under > 0) sum += under * under;
    }
  }
  return sum;
}
