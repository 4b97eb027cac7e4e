import type { Filter } from '../../src/filter/filter.js';
import { connectBank } from './connectBank.js';
import { type ListeningLevels, listeningLevels } from './listeningLevels.js';

/** Without the filters, or with them. */
export type ListeningSide = 'before' | 'after';

/** Time constants in s. Both sides of a switch always add up to one, so nothing clicks and nothing sags. */
const SWITCH_S = 0.008;
const VOLUME_S = 0.02;
const START_S = 0.15;
/** After so many time constants a fade is over: 0.001. */
const FADED = 7;

export interface ListeningGraph {
  /** Gains that hold now. */
  readonly levels: () => ListeningLevels;
  readonly choose: (side: ListeningSide) => void;
  readonly setVolumeDb: (db: number) => void;
  /** Crossfades from the filters as they were to these; returns a function that lets the old ones go, for after it. */
  readonly setFilters: (filters: readonly Filter[]) => () => void;
  /** Plays a sound round and round, coming up from silence; what was playing ends. */
  readonly start: (sound: AudioBuffer) => void;
  /** Fades out; resolves to how long that takes, in s. */
  readonly stop: () => number;
}

const linear = (db: number): number => 10 ** (db / 20);

/**
 * Source → both sides → switch → fade → volume → destination:
 *
 *     before: input gain + loudness
 *     after:  input gain → biquads
 *
 * @param context offline too
 */
export function listeningGraph(
  context: BaseAudioContext,
  firstFilters: readonly Filter[],
  first: { readonly side: ListeningSide; readonly volumeDb: number },
): ListeningGraph {
  const gain = (value: number, to?: AudioNode): GainNode => {
    const node = context.createGain();
    node.gain.value = value;
    if (to) node.connect(to);
    return node;
  };
  const glide = (node: GainNode, value: number, timeS: number) =>
    node.gain.setTargetAtTime(value, context.currentTime, timeS);

  const volume = gain(linear(first.volumeDb), context.destination);
  const fade = gain(0, volume);
  const switches = {
    before: gain(first.side === 'before' ? 1 : 0, fade),
    after: gain(first.side === 'after' ? 1 : 0, fade),
  };
  const input = gain(1);
  let levels = listeningLevels(firstFilters, context.sampleRate);
  const before = gain(linear(levels.beforeDb), switches.before);
  input.connect(before);
  let branch = addBranch(firstFilters, 1);
  let source: AudioBufferSourceNode | undefined;

  function addBranch(
    filters: readonly Filter[],
    share: number,
  ): { readonly head: GainNode; readonly tail: GainNode } {
    const head = gain(linear(levels.inputGainDb));
    const tail = gain(share, switches.after);
    input.connect(head);
    connectBank(context, head, filters).connect(tail);
    return { head, tail };
  }

  return {
    levels: () => levels,
    choose: (side) => {
      glide(switches.before, side === 'before' ? 1 : 0, SWITCH_S);
      glide(switches.after, side === 'after' ? 1 : 0, SWITCH_S);
    },
    setVolumeDb: (db) => {
      glide(volume, linear(db), VOLUME_S);
    },
    setFilters: (filters) => {
      const old = branch;
      levels = listeningLevels(filters, context.sampleRate);
      branch = addBranch(filters, 0);
      glide(before, linear(levels.beforeDb), SWITCH_S);
      glide(old.tail, 0, SWITCH_S);
      glide(branch.tail, 1, SWITCH_S);
      return () => {
        input.disconnect(old.head);
        old.tail.disconnect();
      };
    },
    start: (sound) => {
      source?.stop();
      source = context.createBufferSource();
      source.buffer = sound;
      source.loop = true;
      source.connect(input);
      source.start();
      fade.gain.cancelScheduledValues(context.currentTime);
      fade.gain.setValueAtTime(0, context.currentTime);
      glide(fade, 1, START_S);
    },
    stop: () => {
      glide(fade, 0, VOLUME_S);
      source?.stop(context.currentTime + FADED * VOLUME_S);
      source = undefined;
      return FADED * VOLUME_S;
    },
  };
}
