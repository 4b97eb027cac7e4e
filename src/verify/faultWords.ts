import type { Filter } from '../filter/filter.js';
import type { Checkable } from '../schema/checkable.js';
import type { Fault } from '../schema/verification.js';
import { formatFrequency } from '../units/formatFrequency.js';
import { conventionWords } from './conventionWords.js';
import { bandWords, enterWords, signed, typeWords } from './enterWords.js';
import type { Hump } from './humpsOf.js';
import type { Accepted, Judgement } from './judge.js';
import type { ShiftedFeature } from './shiftedFeatures.js';
import { percent, type Words } from './words.js';

/** What a fault is told from. */
interface Told {
  readonly design: Checkable;
  readonly judgement: Judgement;
  /** What was measured without filters was given beside the design. */
  readonly isBeforeGiven: boolean;
}

/** A fault with its figures and what to do, in words. Filters are counted from 1 there, as every table does. */
export function faultOf(accepted: Accepted, told: Told): Fault {
  const { hypothesis } = accepted;
  const { frequencyHz, gainDb, q, convention, direction, madeForHz, runningAtHz } = hypothesis.detail;
  return {
    type: hypothesis.type,
    ...(hypothesis.filter !== undefined && { filter: hypothesis.filter }),
    explains: shareOf(accepted.explains),
    ...wordsOf(accepted, told),
    ...(frequencyHz !== undefined && { frequencyHz: Number(frequencyHz.toPrecision(4)) }),
    ...(gainDb !== undefined && { gainDb: Number(gainDb.toFixed(2)) }),
    ...(q !== undefined && { q: Number(q.toPrecision(2)) }),
    ...(convention && { convention }),
    ...(direction && { direction }),
    ...(madeForHz !== undefined && { madeForHz }),
    ...(runningAtHz !== undefined && { runningAtHz }),
  };
}

function wordsOf({ hypothesis, explains }: Accepted, { design, judgement, isBeforeGiven }: Told): Words {
  const { type, filter: index, detail } = hypothesis;
  const filter = index === undefined ? undefined : design.filters[index];
  const share = `explains ${percent(explains)} of the misfit`;
  const name =
    filter &&
    `Filter ${index! + 1}${bandWords(design, index!)} (${typeWords[filter.type]}, ${formatFrequency(filter.frequencyHz)}, ${signed(filter.gainDb)}, Q ${Number(filter.q.toPrecision(3))})`;
  if (filter && name) {
    const enter = enterWords(design, index!);
    if (type === 'filterMissing') {
      return {
        message: `${name} is not there: the measurement looks as if it had not been entered or were switched off; that ${share}.`,
        fix: `${enter} If it is entered, see whether it is switched on, and that its frequency did not land outside the range${
          filter.type === 'peaking'
            ? '. A Q taken for a bandwidth in Hz leaves next to nothing of a filter, too'
            : ''
        }.`,
      };
    }
    if (type === 'gainSign') {
      return {
        message: `${name} acts with the opposite sign: ${signed(detail.gainDb!)} in place of ${signed(filter.gainDb)}; that ${share}.`,
        fix: `${enter} Mind the minus sign${
          filter.type === 'peaking'
            ? ''
            : `, and that it is a ${typeWords[filter.type]}: the other shelf with the same gain differs from this one turned about by the level alone, which is not compared`
        }.`,
      };
    }
    if (type === 'frequencyWrong') {
      const slip = detail.slip === undefined ? '' : `, as by ${detail.slip}`;
      return {
        message: `${name} seems to sit near ${formatFrequency(detail.frequencyHz!)} in place of ${formatFrequency(filter.frequencyHz)}${slip}; that ${share}.`,
        fix: enter,
      };
    }
    if (detail.isDoubled) {
      return {
        message: `${name} acts twice, as if it ran two times one after the other; that ${share}.`,
        fix: `See whether it is entered in two bands, or once more in another equalizer on the way of the signal, and take one out. ${enter}`,
      };
    }
    if (detail.q !== undefined) return otherQWords(name, filter, detail.q, share, enter);
    return {
      message: `${name} acts with about ${signed(detail.gainDb!)} in place of ${signed(filter.gainDb)}; that ${share}.`,
      fix: `${enter} If it is entered so, the equalizer may limit or scale its gain, or another microphone or calibration was used.`,
    };
  }
  switch (type) {
    case 'bypassed':
      return {
        message: `The filters do nothing at all: the measurement looks as it did before them; that ${share}.`,
        fix: 'Switch the equalizer on, see that the right preset or output is in use, and that the signal runs through it. Then measure again.',
      };
    case 'gainSign':
      return {
        message: `All filters act with the opposite sign; that ${share}.`,
        fix: `${isBeforeGiven ? EXCHANGED_FILES : ''}${TURNED_SIGNS}`,
      };
    case 'sampleRate': {
      const { madeForHz, runningAtHz } = detail;
      const ratio = runningAtHz! / madeForHz!;
      return {
        message: `Everything sits ${percent(Math.abs(ratio - 1))} too ${ratio > 1 ? 'high' : 'low'}, as coefficients for ${khz(madeForHz!)} do when they run at ${khz(runningAtHz!)}; that ${share}.`,
        fix:
          runningAtHz === design.sampleRateHz
            ? `The equalizer seems to run at the rate of the design, ${khz(runningAtHz)}, with coefficients made for another: load those of this design (coefficients.json says "sampleRateHz"), or enter its numbers again where the equalizer computes its own.`
            : `Find out the rate at which the equalizer really runs, and fit again with --sample-rate for that rate (${khz(runningAtHz!)}, as it looks).`,
      };
    }
    case 'qConvention':
      return conventionWords(hypothesis, share, judgement.wholeBank);
    case 'channelsSwapped':
      return {
        message: `${exchangedWords[detail.exchanged!]}; that ${share}.`,
        fix: 'Play to one speaker at a time, see which one sounds and which filters act, and exchange the cables or the presets. Then measure again.',
      };
    case 'unknown':
      return detail.isDoubled
        ? { message: `All filters act twice, one set after the other; that ${share}.`, fix: ENTERED_TWICE }
        : strengthWords(detail.gainShare!, share);
    default:
      return unknownWords(true);
  }
}

const TURNED_SIGNS =
  'Enter the gains with the signs of the table: negative cuts, positive boosts. If coefficients were loaded, b and a may be exchanged.';
const EXCHANGED_FILES =
  'See first that the two measurements are not exchanged: the one given with --before is to be that without filters. ';

function otherQWords(
  name: string,
  { type, q: promised }: Filter,
  q: number,
  share: string,
  enter: string,
): Words {
  const isPeaking = type === 'peaking';
  const shape = isPeaking ? `${q < promised ? 'wider' : 'narrower'} than promised` : 'of another slope';
  const tidy = (value: number) => Number(value.toPrecision(2));
  return {
    message: `${name} acts as if its Q were about ${tidy(q)} in place of ${tidy(promised)}, which makes it ${shape}; that ${share}.`,
    fix: `${enter} If it is entered so, see what the equalizer takes that number for: some state a bandwidth${isPeaking ? '' : ' or a slope'} in place of Q, some define Q in another way, be it for cuts or for one kind of filter alone. Then convert it to that meaning (a device file with "qConvention" does it).`,
  };
}

const ENTERED_TWICE =
  'See whether the filters are entered twice on the way of the signal, say in the player and in the equalizer, and take one set out.';

function strengthWords(gainShare: number, share: string): Words {
  const twice = gainShare > 1.8;
  return {
    message: `All filters act with about ${Math.round(100 * gainShare)} % of their gains in dB; that ${share}.`,
    fix: twice
      ? ENTERED_TWICE
      : 'See whether the equalizer scales or limits gains or mixes in the unfiltered signal, and that the gains are those of filters.txt.',
  };
}

const exchangedWords = {
  filters: "Left and right are exchanged: this speaker plays through the other channel's filters",
  speakers:
    "Left and right are exchanged behind the equalizer: the other speaker plays with this channel's filters",
  measured: 'The other speaker with its own filters was measured',
} as const;

/**
 * Natural logarithm, penalty taken off, from which on a bank beside a move looks as if it did nothing, and from which on
 * that is as likely as that it acts. Simulated, in rooms of two makes: of 57 moved speakers with right filters none came
 * to more than −3.9, with one missing none to more than 1; of 36 with none in force 22 did, and 14 lie between.
 */
const LOOKS_BYPASSED = 1;
const MAY_BE_BYPASSED = -3;

/** @param isAlone whether no filter is named beside it */
export function movedFault(
  share: number,
  shifted: readonly ShiftedFeature[],
  otherGiven: boolean,
  isAlone: boolean,
  { wholeBank }: Pick<Judgement, 'wholeBank'>,
): Fault {
  const bypassed = isAlone ? wholeBank.find(({ hypothesis }) => hypothesis.type === 'bypassed') : undefined;
  const evidence = bypassed?.evidence ?? Number.NEGATIVE_INFINITY;
  const looksBypassed = evidence > LOOKS_BYPASSED;
  const moves = shifted
    .slice(0, 3)
    .map(
      ({ beforeHz, afterHz }) =>
        `the dip near ${formatFrequency(beforeHz)} now lies near ${formatFrequency(afterHz)}`,
    );
  const seen = moves.length === 0 ? 'its peaks and dips are not where they were' : moves.join(', ');
  return {
    type: 'speakerMoved',
    explains: shareOf(share),
    message:
      `The room's part of the curve has changed as no filter can change it: ${seen}. The speaker or the microphone ` +
      `stands elsewhere than in the earlier measurement, by several centimetres or more; that makes up ${percent(share)} of the misfit. ${
        isAlone
          ? 'It hides what the filters do: one of them may be missing or wrong as well.'
          : 'It hides what single filters do.'
      }${
        looksBypassed
          ? ' As far as it can be told, it looks more as if they did nothing at all than as if they acted as promised.'
          : evidence > MAY_BE_BYPASSED
            ? ' Not even whether they act at all can be told beside it.'
            : ''
      }${
        otherGiven
          ? ''
          : " If nothing was moved, another speaker may have been measured: give the other channel's design or curve with --other."
      }`,
    fix: `${
      evidence > MAY_BE_BYPASSED ? 'See that the equalizer is on and that the signal runs through it. ' : ''
    }Put speaker and microphone back where they stood and measure again; or, if they are to stay where they are, measure without filters and fit anew.${
      isAlone ? ' Only then can it be told whether the filters are right.' : ''
    }`,
  };
}

export function unknownFault(share: number, otherGiven: boolean): Fault {
  return { type: 'unknown', explains: shareOf(share), ...unknownWords(otherGiven) };
}

/** @param humps where the change is greatest, unless it is smooth over octaves */
export function otherToneFault(share: number, otherGiven: boolean, humps: readonly Hump[]): Fault {
  const isShape = humps.length > 0;
  const most = humps.map(({ db, frequencyHz }) => `${signed(db)} near ${formatFrequency(frequencyHz)}`);
  const changed = isShape
    ? `Something of another shape acts on the whole curve: ${most.join(', ')} against its mean, broadly, and the room's fine structure is where it was, so that nothing seems to have been moved`
    : 'The tone of the whole has changed, smoothly over octaves, as neither these filters nor a move changes it';
  return {
    type: 'unknown',
    explains: shareOf(share),
    message: `${changed}; that makes up ${percent(share)} of the misfit. ${
      isShape
        ? 'Another equalizer on the way of the signal, filters of another preset left on, a tone or room control of the speaker, another microphone or calibration, or several of these filters entered wrongly do that.'
        : 'Another microphone or calibration, a microphone turned another way, a tone or room control of the speaker, another equalizer on the way of the signal, or another kind of test signal does that.'
    }`,
    fix: `${
      isShape
        ? 'See that no other equalizer, preset or tone control acts, in the player, the device or the speaker, and that exactly these filters are entered; then measure again with the same microphone and calibration.'
        : 'Measure as the first time: same microphone, calibration, direction and signal, all controls of the speaker as they were, no other equalizer on.'
    } Or measure anew with the filters off and give that with --before.${otherGiven ? '' : OTHER_CHANNEL}`,
  };
}

const OTHER_CHANNEL =
  " Give the other channel's design or curve with --other to have a mix-up of channels checked.";

function unknownWords(otherGiven: boolean): Words {
  return {
    message: `The measurement differs from the promise by more than noise and a microphone a few centimetres off leave, and no single slip explains it.${
      otherGiven ? '' : ' Whether left and right are exchanged cannot be told from one channel alone.'
    }`,
    fix: `Measure with the filters switched off and give that with --before: then only what the filters do is compared. See that microphone, calibration and smoothing are the same both times.${
      otherGiven ? '' : OTHER_CHANNEL
    }`,
  };
}

const shareOf = (share: number): number => Math.round(1000 * Math.min(1, Math.max(0, share))) / 1000;
const khz = (hz: number): string => `${hz / 1000} kHz`;
