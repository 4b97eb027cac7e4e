import type { Filter } from '../../src/filter/filter.js';
import { decodeSound } from './decodeSound.js';
import { type ListeningGraph, type ListeningSide, listeningGraph } from './listeningGraph.js';
import { pinkNoise } from './pinkNoise.js';

/** Five to six seconds before the noise repeats. */
const NOISE_LENGTH = 1 << 18;
const NOISE_SEED = 1;

/** Where playing starts, far below what a full scale would be. */
export const QUIET_DB = -30;

export interface PlayerState {
  readonly playing: boolean;
  /** The rate that the browser plays at; known once the audio has been opened. */
  readonly sampleRateHz?: number;
}

export interface Player {
  /** To be called from a click or a key, before which browsers let no page sound. Rejects with an Error in words. */
  readonly play: () => Promise<void>;
  readonly stop: () => void;
  readonly choose: (side: ListeningSide) => void;
  readonly setVolumeDb: (db: number) => void;
  readonly setFilters: (filters: readonly Filter[]) => void;
  /** Takes a file of the user's for the sound, or the noise again. Rejects with an InputError in words. */
  readonly useFile: (file: File | undefined) => Promise<void>;
  /** Stops and lets the audio go. */
  readonly close: () => void;
}

interface Opened {
  readonly context: AudioContext;
  readonly graph: ListeningGraph;
}

/** Plays before and after. The audio of the browser is opened with the first `play` and rests while nothing plays. */
export function createPlayer(
  firstFilters: readonly Filter[],
  onState: (state: PlayerState) => void,
  openContext: () => AudioContext = () => new AudioContext(),
): Player {
  let opened: Opened | undefined;
  let filters = firstFilters;
  let side: ListeningSide = 'after';
  let volumeDb = QUIET_DB;
  let noise: AudioBuffer | undefined;
  let own: AudioBuffer | undefined;
  let playing = false;
  let resting: ReturnType<typeof setTimeout> | undefined;

  const tell = () => onState({ playing, ...(opened && { sampleRateHz: opened.context.sampleRate }) });

  function open(): Opened {
    if (opened) return opened;
    let context: AudioContext;
    try {
      context = openContext();
    } catch (cause) {
      throw new Error('This browser lets the page make no sound: its audio could not be opened.', { cause });
    }
    opened = { context, graph: listeningGraph(context, filters, { side, volumeDb }) };
    return opened;
  }

  function noiseOf(context: AudioContext): AudioBuffer {
    if (noise) return noise;
    noise = context.createBuffer(1, NOISE_LENGTH, context.sampleRate);
    noise.copyToChannel(pinkNoise(NOISE_LENGTH, context.sampleRate, NOISE_SEED), 0);
    return noise;
  }

  async function play(): Promise<void> {
    const { context, graph } = open();
    clearTimeout(resting);
    await context.resume();
    graph.start(own ?? noiseOf(context));
    playing = true;
    tell();
  }

  function stop(): void {
    if (!opened || !playing) return;
    const { context, graph } = opened;
    playing = false;
    const fadeS = graph.stop();
    resting = setTimeout(() => void context.suspend().catch(() => {}), 1000 * fadeS + 50);
    tell();
  }

  return {
    play,
    stop,
    choose: (next) => {
      side = next;
      opened?.graph.choose(next);
    },
    setVolumeDb: (db) => {
      volumeDb = db;
      opened?.graph.setVolumeDb(db);
    },
    setFilters: (next) => {
      filters = next;
      const release = opened?.graph.setFilters(next);
      if (release) setTimeout(release, 200);
    },
    useFile: async (file) => {
      const sound = file && (await decodeSound(open().context, file));
      const wasPlaying = playing;
      stop();
      own = sound;
      tell();
      if (wasPlaying) await play();
    },
    close: () => {
      stop();
      clearTimeout(resting);
      const closing = opened?.context;
      opened = undefined;
      if (closing) setTimeout(() => void closing.close().catch(() => {}), 200);
    },
  };
}
