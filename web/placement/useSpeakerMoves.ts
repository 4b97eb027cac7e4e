import { useRef, useState } from 'preact/hooks';
import type { Setup } from '../../src/acoustics/setup.js';
import type { MicrophonePlace } from '../../src/whatIf/movePlacement.js';
import { moveAsFar, type Way } from './moveSpeaker.js';
import { surfaceSides } from './surfaceSides.js';

/** Ways to move the speaker. Each goes as far as can be and says why it goes no farther. */
export interface SpeakerMoves {
  readonly dragging: boolean;
  /** Why the last move stopped short. */
  readonly refusal: string | undefined;
  /** A move has ended, so its result is to be read out. */
  readonly announced: boolean;
  readonly beginDrag: () => void;
  /** The whole way since the drag began. */
  readonly dragBy: (way: Way) => void;
  readonly endDrag: () => void;
  /** Back to where the drag began. */
  readonly cancelDrag: () => void;
  /** One step of an arrow key; `endNudges` once it is released. */
  readonly nudge: (way: Way) => void;
  readonly endNudges: () => void;
  /** To a distance from one of the set-up's surfaces. */
  readonly moveTo: (surface: number, speakerDistanceM: number) => string | undefined;
}

export function useSpeakerMoves(
  setup: Setup,
  microphone: MicrophonePlace,
  onMove: (setup: Setup, done: boolean) => void,
): SpeakerMoves {
  const [dragging, setDragging] = useState(false);
  const [refusal, setRefusal] = useState<string | undefined>(undefined);
  const [announced, setAnnounced] = useState(false);
  // Events may come faster than renders: the newest state is kept here.
  const begun = useRef<Setup | undefined>(undefined);
  const newest = useRef(setup);
  newest.current = setup;
  const nudged = useRef(false);

  function go(from: Setup, way: Way, done: boolean): string | undefined {
    const { setup: next, refusal: why } = moveAsFar(from, way, microphone);
    newest.current = next;
    setRefusal(why);
    setAnnounced(done);
    onMove(next, done);
    return why;
  }

  function end(last: Setup): void {
    begun.current = undefined;
    setDragging(false);
    setAnnounced(true);
    newest.current = last;
    onMove(last, true);
  }

  return {
    dragging,
    refusal,
    announced,
    beginDrag: () => {
      begun.current = newest.current;
      setDragging(true);
    },
    dragBy: (way) => {
      if (begun.current) go(begun.current, way, false);
    },
    endDrag: () => {
      if (begun.current) end(newest.current);
    },
    cancelDrag: () => {
      if (begun.current) end(begun.current);
    },
    nudge: (way) => {
      nudged.current = true;
      go(newest.current, way, false);
    },
    endNudges: () => {
      if (!nudged.current) return;
      nudged.current = false;
      setAnnounced(true);
      onMove(newest.current, true);
    },
    moveTo: (surface, speakerDistanceM) => {
      const side = surfaceSides(newest.current)[surface]!;
      const byM = speakerDistanceM - newest.current.surfaces[surface]!.speakerDistance.m;
      return go(newest.current, { [side.axis]: -side.end * byM }, true);
    },
  };
}
