import type { ComponentChildren } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import type { Setup } from '../../src/acoustics/setup.js';
import { setupWarnings } from '../../src/acoustics/setupWarnings.js';
import { limitsWords } from '../../src/whatIf/limitsWords.js';
import type { MirrorScene } from '../../src/whatIf/mirrorScene.js';
import type { MicrophonePlace } from '../../src/whatIf/movePlacement.js';
import { CancellationStrip } from './CancellationStrip.js';
import { CorrectDistances } from './CorrectDistances.js';
import { fromAbove, fromSide } from './drawingFrame.js';
import { MicrophoneChoice } from './MicrophoneChoice.js';
import { PlanDrawing } from './PlanDrawing.js';
import { placeSetup } from './placeSetup.js';
import { placeWords } from './placeWords.js';
import { predictSurfaces, sceneOf } from './predictSurfaces.js';
import { SurfaceCard } from './SurfaceCard.js';
import { useDrawingFrame } from './useDrawingFrame.js';
import { useSpeakerMoves } from './useSpeakerMoves.js';

/** The speaker was moved, or a distance was corrected that had been measured wrongly. */
export type PlacementChange = 'moved' | 'corrected';

export interface PlacementPlanProps {
  /** Where speaker and microphone are drawn. */
  readonly setup: Setup;
  /** `done` is false while a drag or a held key goes on; then only what is quick should follow. */
  readonly onChange: (setup: Setup, done: boolean, change: PlacementChange) => void;
  /** Where the speaker stood when it was measured; drawn as an outline where it differs from `setup`. */
  readonly measuredAt?: Setup | undefined;
  /** What a measurement has shown of the surfaces, its set-up being `measuredAt`; else they are what is usual. */
  readonly scene?: MirrorScene | undefined;
  /** Name of the surface to bring forward. */
  readonly highlighted?: string | undefined;
  readonly onHighlight?: ((surface: string | undefined) => void) | undefined;
  /** Shown below the cancellations, such as the curve that is expected at the new place. */
  readonly whatIf?: ComponentChildren;
}

/** The set-up as a plan drawn to scale, in which the speaker can be moved and its cancellations followed. */
export function PlacementPlan(props: PlacementPlanProps) {
  const { setup, onChange, measuredAt, highlighted, onHighlight, whatIf } = props;
  const [microphone, setMicrophone] = useState<MicrophonePlace>('stays');
  const moves = useSpeakerMoves(setup, microphone, (next, done) => onChange(next, done, 'moved'));
  const placed = useMemo(() => placeSetup(setup), [setup]);
  const ghost = useMemo(() => (measuredAt ? placeSetup(measuredAt) : undefined), [measuredAt]);
  const frame = useDrawingFrame(placed, ghost ?? placed, moves.dragging);
  const reference = measuredAt ?? setup;
  // A scene of another set-up, such as one that has just been corrected, says nothing of this one.
  const own = props.scene?.setup === reference ? props.scene : undefined;
  const scene = useMemo(() => own ?? sceneOf(reference), [own, reference]);
  const predictions = useMemo(() => predictSurfaces(setup, scene), [setup, scene]);
  const before = useMemo(
    () => (measuredAt ? predictSurfaces(measuredAt, scene) : undefined),
    [measuredAt, scene],
  );
  const away = measuredAt !== undefined && isAway(setup, measuredAt);
  const drawing = { frame, placed, ghost: away ? ghost : undefined, setup, highlighted, onHighlight, moves };
  const warnings = setupWarnings(setup);
  return (
    <div class="placement">
      <div class="placement-drawings">
        <PlanDrawing {...drawing} view={fromAbove} name="From above" />
        <PlanDrawing {...drawing} view={fromSide} name="From the side" />
      </div>
      <p class="placement-readout">{placeWords(setup)}</p>
      {moves.refusal && <p class="placement-refusal">{moves.refusal}</p>}
      <p class="placement-said" role="status">
        {moves.announced ? (moves.refusal ?? placeWords(setup)) : ''}
      </p>
      <div class="placement-tools">
        <MicrophoneChoice value={microphone} onChange={setMicrophone} />
        {away && (
          <button type="button" onClick={() => onChange(measuredAt, true, 'moved')}>
            Put it back where it was measured
          </button>
        )}
      </div>
      {warnings.map(({ message }) => (
        <p class="placement-warning">{message}</p>
      ))}
      {setup.surfaces.length === 0 ? (
        <p>
          The set-up names no surfaces. With the distances to the wall behind, the desk or a side wall it can
          say where they cancel.
        </p>
      ) : (
        <>
          <CancellationStrip
            predictions={predictions}
            before={away ? before : undefined}
            highlighted={highlighted}
          />
          <ul class="placement-cards">
            {predictions.map((prediction, index) => (
              <SurfaceCard
                key={prediction.name}
                index={index}
                setup={setup}
                prediction={prediction}
                before={away ? before?.[index] : undefined}
                highlighted={prediction.name === highlighted}
                onHighlight={onHighlight}
                moveTo={(speakerDistanceM) => moves.moveTo(index, speakerDistanceM)}
              />
            ))}
          </ul>
        </>
      )}
      {whatIf !== undefined && <div class="placement-what-if">{whatIf}</div>}
      <details>
        <summary>A distance was measured wrongly?</summary>
        <CorrectDistances
          setup={measuredAt ?? setup}
          away={away}
          onChange={(corrected) => onChange(corrected, true, 'corrected')}
        />
      </details>
      <details>
        <summary>What this cannot know</summary>
        <ul>
          {[...limitsWords({ title: '', setup, varied: [], microphone }), ...PLAN_LIMITS].map((sentence) => (
            <li>{sentence}</li>
          ))}
        </ul>
      </details>
    </div>
  );
}

const PLAN_LIMITS = [
  'The set-up holds distances, not directions: which side a surface is drawn on is taken from its distances and its name. No predicted frequency depends on that.',
  'When the microphone stays, all its distances stay, and the straight distance follows from the way that the speaker makes. The box is drawn as deep and as high as usual for its width.',
];

function isAway(setup: Setup, measuredAt: Setup): boolean {
  if (setup === measuredAt) return false;
  const far = (a: number, b: number | undefined) => b === undefined || Math.abs(a - b) > 1e-6;
  return (
    far(setup.microphoneDistance.m, measuredAt.microphoneDistance.m) ||
    setup.surfaces.some(({ speakerDistance, microphoneDistance }, i) => {
      const other = measuredAt.surfaces[i];
      return (
        far(speakerDistance.m, other?.speakerDistance.m) ||
        far(microphoneDistance.m, other?.microphoneDistance.m)
      );
    })
  );
}
