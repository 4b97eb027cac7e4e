import { render } from 'preact';
import { useState } from 'preact/hooks';
import type { Filter } from '../../src/filter/filter.js';
import { Listen } from '../../web/listen/Listen.js';
import { type ListeningGraph, type ListeningSide, listeningGraph } from '../../web/listen/listeningGraph.js';
import { pinkNoise } from '../../web/listen/pinkNoise.js';

export { decodeSound } from '../../web/listen/decodeSound.js';

export interface Rendering {
  readonly sampleRateHz: number;
  readonly filters: readonly Filter[];
  readonly side: ListeningSide;
  readonly seconds: number;
  /** What comes before is not handed over. */
  readonly fromS?: number;
  readonly sound: 'impulse' | 'noise' | { readonly sineHz: number };
  /** What is done while it plays, and when. */
  readonly deeds?: readonly {
    readonly atS: number;
    readonly choose?: ListeningSide;
    readonly filters?: readonly Filter[];
    readonly volumeDb?: number;
    readonly stop?: boolean;
  }[];
}

/** Long after the fade at the start is over. */
export const IMPULSE_AT_S = 2;

/** What the graph gives at a volume of 0 dB, as the browser's own audio engine renders it. */
export async function rendered(asked: Rendering): Promise<number[]> {
  const { sampleRateHz, filters, side, seconds, sound, fromS = 0, deeds = [] } = asked;
  const context = new OfflineAudioContext(1, Math.round(seconds * sampleRateHz), sampleRateHz);
  const graph = listeningGraph(context, filters, { side, volumeDb: 0 });
  graph.start(soundOf(context, sound, seconds));
  for (const deed of deeds) {
    void context.suspend(deed.atS).then(() => {
      carryOut(graph, deed);
      return context.resume();
    });
  }
  const result = await context.startRendering();
  return Array.from(result.getChannelData(0).subarray(Math.round(fromS * sampleRateHz)));
}

function carryOut(graph: ListeningGraph, deed: NonNullable<Rendering['deeds']>[number]): void {
  if (deed.choose) graph.choose(deed.choose);
  if (deed.filters) graph.setFilters(deed.filters);
  if (deed.volumeDb !== undefined) graph.setVolumeDb(deed.volumeDb);
  if (deed.stop) graph.stop();
}

function soundOf(context: BaseAudioContext, sound: Rendering['sound'], seconds: number): AudioBuffer {
  const { sampleRate } = context;
  const length = sound === 'noise' ? 1 << 17 : Math.round(seconds * sampleRate);
  const buffer = context.createBuffer(1, length, sampleRate);
  const samples = sound === 'noise' ? pinkNoise(length, sampleRate, 3) : new Float32Array(length);
  if (sound === 'impulse') samples[Math.round(IMPULSE_AT_S * sampleRate)] = 1;
  if (typeof sound === 'object') {
    for (let i = 0; i < length; i++)
      samples[i] = 0.5 * Math.sin((2 * Math.PI * sound.sineHz * i) / sampleRate);
  }
  buffer.copyToChannel(samples, 0);
  return buffer;
}

/** Contexts that the page has opened. */
export const contexts: AudioContext[] = [];

let change: (filters: readonly Filter[]) => void = () => {};

export function showListen(filters: readonly Filter[], designRateHz = 48_000): void {
  const Plain = window.AudioContext;
  window.AudioContext = class extends Plain {
    constructor() {
      super();
      contexts.push(this);
    }
  };
  const place = document.createElement('main');
  document.body.append(place);
  render(<Owner first={filters} designRateHz={designRateHz} />, place);
}

export const changeFilters = (filters: readonly Filter[]): void => change(filters);

function Owner({
  first,
  designRateHz,
}: {
  readonly first: readonly Filter[];
  readonly designRateHz: number;
}) {
  const [filters, setFilters] = useState(first);
  change = setFilters;
  return <Listen filters={filters} designRateHz={designRateHz} />;
}
