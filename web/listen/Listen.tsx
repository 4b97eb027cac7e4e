import { useEffect, useId, useMemo, useRef, useState } from 'preact/hooks';
import type { Filter } from '../../src/filter/filter.js';
import { ListenCaution } from './ListenCaution.js';
import type { ListeningSide } from './listeningGraph.js';
import { listeningWords, rateWords } from './listeningWords.js';
import { createPlayer, type Player, type PlayerState, QUIET_DB } from './player.js';
import { SideChoice } from './SideChoice.js';
import { SoundChoice } from './SoundChoice.js';
import { useStopWhenHidden } from './useStopWhenHidden.js';
import { VolumeField } from './VolumeField.js';

export interface ListenProps {
  /** The filters that sound, in cookbook terms. */
  readonly filters: readonly Filter[];
  /** The rate that they were designed for. */
  readonly designRateHz: number;
  /** Another player for tests. */
  readonly player?: typeof createPlayer | undefined;
}

/** Hear a sound without the filters and with them, equally loud, and switch between the two. */
export function Listen({ filters, designRateHz, player: make = createPlayer }: ListenProps) {
  const [state, setState] = useState<PlayerState>({ playing: false });
  const [side, setSide] = useState<ListeningSide>('after');
  const [volumeDb, setVolumeDb] = useState(QUIET_DB);
  const [soundName, setSoundName] = useState<string | undefined>(undefined);
  const [problem, setProblem] = useState<string | undefined>(undefined);
  const player = useRef<Player | undefined>(undefined);
  player.current ??= make(filters, setState);
  const { current } = player;
  const statusId = useId();

  useEffect(() => current.setFilters(filters), [current, filters]);
  useEffect(() => () => current.close(), [current]);
  useStopWhenHidden(current.stop);
  const rateHz = state.sampleRateHz ?? designRateHz;
  const words = useMemo(() => listeningWords(filters, rateHz), [filters, rateHz]);
  const rate = useMemo(
    () => rateWords(filters, designRateHz, state.sampleRateHz),
    [filters, designRateHz, state.sampleRateHz],
  );

  const tryTo = (work: Promise<void>): Promise<void> =>
    work.then(
      () => setProblem(undefined),
      (error: unknown) => setProblem(error instanceof Error ? error.message : String(error)),
    );
  return (
    <div class="listen">
      <ListenCaution filters={filters} sampleRateHz={rateHz} />
      <div class="listen-desk">
        <button
          type="button"
          class="listen-play"
          aria-describedby={statusId}
          onClick={() => (state.playing ? current.stop() : tryTo(current.play()))}
        >
          {state.playing ? 'Stop' : 'Play'}
        </button>
        <SideChoice
          value={side}
          onChange={(next) => {
            setSide(next);
            current.choose(next);
          }}
        />
        <VolumeField
          db={volumeDb}
          onChange={(db) => {
            setVolumeDb(db);
            current.setVolumeDb(db);
          }}
        />
      </div>
      <SoundChoice
        fileName={soundName}
        onChoose={(file) => tryTo(current.useFile(file).then(() => setSoundName(file?.name)))}
      />
      <p id={statusId} class="listen-status" role="status">
        {statusWords(state.playing, side, soundName)}
      </p>
      {problem !== undefined && (
        <p class="listen-problem" role="alert">
          {problem}
        </p>
      )}
      <ul class="listen-facts">
        {[...words, rate].map((sentence) => (
          <li>{sentence}</li>
        ))}
      </ul>
    </div>
  );
}

function statusWords(playing: boolean, side: ListeningSide, soundName: string | undefined): string {
  const sound = soundName === undefined ? 'pink noise' : `“${soundName}”`;
  const how = side === 'after' ? 'with the filters' : 'without the filters';
  return playing ? `You hear ${sound} ${how}.` : `Silent. Play starts ${sound} ${how}.`;
}
