import { resampleToGrid } from '../curve/resampleToGrid.js';
import { smoothOctave } from '../curve/smoothOctave.js';
import { advisedStepM } from '../diagnosis/verdict/placementAdvice.js';
import { InputError } from '../inputError.js';
import { chooseRange } from '../pipeline/chooseRange.js';
import type { DesignRequest } from '../pipeline/designRequest.js';
import { prepareMeasurements } from '../pipeline/prepareMeasurements.js';
import { roundDb, roundHz, roundRange } from '../pipeline/rounding.js';
import type { PredictedPlacement, Prediction } from '../schema/prediction.js';
import type { Warning } from '../warning.js';
import { ratePlaces } from './bestPlaces.js';
import { type ExplainedCurve, explainCurve, lateRippleDb } from './explainCurve.js';
import { fittedSurfaces } from './fittedSurfaces.js';
import { mirroredDb } from './mirrorScene.js';
import { type Move, movePlacement } from './movePlacement.js';
import { placementSteps } from './placementSteps.js';
import { geometryOf, movesToNow, placementsOf, refusalOf } from './placements.js';
import type { PredictionRequest } from './predictionRequest.js';
import { refitAt } from './refitAt.js';
import { roundM } from './roundPrediction.js';
import { unevennessDb } from './unevennessDb.js';
import { whatIfCurve } from './whatIfCurve.js';

/** New fits in the first round; each takes a few tenths of a second. */
const MOST_FITS = 21;
/** Curves of more places than this are left out of the result. */
const MOST_CURVES = 120;
const SHOWN_SMOOTHING_OCTAVES = 1 / 12;

type Measured = Pick<Prediction, 'now' | 'varied' | 'best' | 'advised' | 'range' | 'fitted' | 'curves'> & {
  readonly warnings: readonly Warning[];
};

/** The part of a prediction that rests on measurements: curves, errors after a new fit, best places. */
export function measuredPrediction(
  request: PredictionRequest,
  measured: DesignRequest,
  wantedHz: Float64Array,
): Measured {
  const { setup, microphone } = request;
  const prepared = prepareMeasurements(measured);
  const { curve, referenceDb } = prepared;
  const shownHz = wantedHz.filter(
    (hz) => hz >= curve.frequencyHz[0]! && hz <= curve.frequencyHz[curve.frequencyHz.length - 1]!,
  );
  const chosen = chooseRange(curve, measured, measured.sampleRateHz, prepared.trust);
  const explained = explainCurve(curve, chosen.range, setup);
  if (!explained) {
    throw new InputError(
      setup.surfaces.length === 0
        ? 'the set-up names no surfaces, expected at least the one that the speaker is moved from'
        : 'the measurement covers too little between 40 Hz and 2.5 kHz to show reflections, expected two octaves or more',
    );
  }
  const shown = (levelDb: Float64Array) =>
    Array.from(
      resampleToGrid(smoothOctave({ ...curve, levelDb }, SHOWN_SMOOTHING_OCTAVES), shownHz).levelDb,
      (db) => roundDb(db + referenceDb),
    );
  const base = {
    range: roundRange(chosen.range),
    fitted: fittedSurfaces(explained),
    curves: { frequencyHz: Array.from(shownHz, roundHz), nowDb: shown(curve.levelDb) },
    warnings: [...prepared.warnings, ...chosen.warnings, ...unexplained(explained, measured)],
  };
  if (request.varied.length === 0) return base;

  const { possible: places, warnings } = placementsOf(request);
  const names = request.varied.map(({ surface }) => surface);
  const refit = (at: PlaceAt) => refitAt(at.levelDb, at.reflectedDb, measured, chosen, curve.frequencyHz);
  const nowMoves = movesToNow(setup, names);
  const now = placeAt(explained, nowMoves, microphone);
  const nowFit = refit(now);
  const describe = (
    moves: readonly Move[],
    withCurve: boolean,
    known?: ReturnType<typeof refit>,
  ): PredictedPlacement => {
    const at = placeAt(explained, moves, microphone);
    return {
      ...geometryOf(explained, movePlacement(setup, moves, microphone), moves),
      unevennessDb: roundDb(unevennessDb(curve.frequencyHz, at.levelDb)),
      ...(known && {
        errorRmsDb: roundDb(known.errorRmsDb),
        remainingErrorRmsDb: roundDb(known.remainingErrorRmsDb),
        gainDb: roundDb(nowFit.remainingErrorRmsDb - known.remainingErrorRmsDb),
      }),
      ...(withCurve && { levelDb: shown(at.levelDb) }),
    };
  };
  const asMoves = (distancesM: readonly number[]): Move[] =>
    distancesM.map((speakerDistanceM, k) => ({ surface: names[k]!, speakerDistanceM }));
  const stepM = advisedStepM(setup.lengthUnit);
  const advised = nowMoves.map((_, k) =>
    nowMoves.map(({ speakerDistanceM }, i) => roundM(speakerDistanceM + (i === k ? stepM : 0))),
  );
  const axes = request.varied.map((span) => placementSteps(span, setup.lengthUnit));
  const rate = (distancesM: readonly number[]) => {
    const moves = asMoves(distancesM);
    if (refusalOf(request, moves)) return undefined;
    const result = refit(placeAt(explained, moves, microphone));
    return { value: result.remainingErrorRmsDb, result };
  };
  const { rated, best } = ratePlaces(axes, MOST_FITS, rate, advised);
  const fits = new Map(rated.map(({ distancesM, result }) => [keyOf(distancesM), result]));

  return {
    ...base,
    warnings: [...base.warnings, ...warnings],
    now: describe(nowMoves, true, nowFit),
    varied: places.map((moves) =>
      describe(moves, places.length <= MOST_CURVES, fits.get(keyOf(moves.map((m) => m.speakerDistanceM)))),
    ),
    best: best.map(({ distancesM, result }) => describe(asMoves(distancesM), true, result)),
    advised: advised.flatMap((distancesM) => {
      const result = fits.get(keyOf(distancesM)) ?? rate(distancesM)?.result;
      return result ? [describe(asMoves(distancesM), false, result)] : [];
    }),
  };
}

/** Ripple in dB RMS from which on single reflections no longer tell much of the curve elsewhere. */
const MUCH_RIPPLE_DB = 2;

function unexplained(explained: ExplainedCurve, { measurements }: DesignRequest): Warning[] {
  const rippleDb = lateRippleDb(explained);
  if (rippleDb < MUCH_RIPPLE_DB) return [];
  const more =
    measurements.length > 1
      ? 'name more of the surfaces in the set-up'
      : 'give several microphone positions a few centimetres apart, whose mean shows the surfaces better, and name more of them in the set-up';
  return [
    {
      code: 'much-unexplained',
      message: `The surfaces leave a ripple of ${roundDb(rippleDb).toFixed(1)} dB RMS between 100 Hz and 1 kHz unexplained: the rest of the room, which changes as the speaker moves. Take curves at other places as a hint only; ${more}.`,
    },
  ];
}

interface PlaceAt {
  readonly levelDb: Float64Array;
  readonly reflectedDb: Float64Array;
}

function placeAt(
  explained: ExplainedCurve,
  moves: readonly Move[],
  microphone: PredictionRequest['microphone'],
): PlaceAt {
  const moved = movePlacement(explained.setup, moves, microphone);
  return {
    levelDb: whatIfCurve(explained, moved).levelDb,
    reflectedDb: mirroredDb(explained, moved),
  };
}

const keyOf = (distancesM: readonly number[]) => distancesM.map((m) => m.toFixed(4)).join(' ');
