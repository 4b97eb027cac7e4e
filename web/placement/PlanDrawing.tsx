import { useRef } from 'preact/hooks';
import type { Setup } from '../../src/acoustics/setup.js';
import { Distances } from './Distances.js';
import { type DrawingFrame, drawingSize, type Point, toDrawing, type View } from './drawingFrame.js';
import { PathLines } from './PathLines.js';
import type { PlacedSetup } from './placeSetup.js';
import { ScaleGrid } from './ScaleGrid.js';
import { SpeakerBox } from './SpeakerBox.js';
import { SpeakerHandle } from './SpeakerHandle.js';
import { SurfaceLine } from './SurfaceLine.js';
import type { SpeakerMoves } from './useSpeakerMoves.js';

export interface PlanDrawingProps {
  readonly name: string;
  readonly view: View;
  readonly frame: DrawingFrame;
  readonly placed: PlacedSetup;
  /** Where the speaker was measured, where that is elsewhere. */
  readonly ghost: PlacedSetup | undefined;
  readonly setup: Setup;
  readonly highlighted: string | undefined;
  readonly onHighlight: ((surface: string | undefined) => void) | undefined;
  readonly moves: SpeakerMoves;
}

/** One view of the set-up, drawn to scale. */
export function PlanDrawing(props: PlanDrawingProps) {
  const { name, view, frame, placed, ghost, setup, highlighted, onHighlight, moves } = props;
  const svg = useRef<SVGSVGElement>(null);
  const { width, height } = drawingSize(frame, view);
  const at = (which: 'speakerM' | 'microphoneM', of = placed): Point =>
    toDrawing(frame, view, of.axes[view.right][which], of.axes[view.down][which]);
  const microphone = at('microphoneM');
  const inView = placed.surfaces.filter(({ axis }) => axis === view.right || axis === view.down);
  const shared = { frame, view, placed };
  return (
    <figure class="placement-drawing">
      <figcaption>{name}</figcaption>
      {/* biome-ignore lint/a11y/useSemanticElements: a drawing is no fieldset */}
      <svg
        ref={svg}
        viewBox={`0 0 ${round(width)} ${round(height)}`}
        role="group"
        aria-label={`${name}, drawn to scale. ${setup.surfaces.length} surfaces, speaker and microphone.`}
      >
        {/* biome-ignore lint/a11y/noAriaHiddenOnFocusable: nothing in it takes the focus; the text below says the same */}
        <g aria-hidden="true">
          <ScaleGrid frame={frame} view={view} unit={setup.lengthUnit} />
          {inView.map((surface) => (
            <SurfaceLine
              key={surface.index}
              {...shared}
              surface={surface}
              name={setup.surfaces[surface.index]!.name}
              highlighted={setup.surfaces[surface.index]!.name === highlighted}
              onHighlight={onHighlight}
            />
          ))}
          <PathLines {...shared} surfaces={inView} setup={setup} highlighted={highlighted} />
          {ghost && <SpeakerBox {...shared} placed={ghost} setup={setup} ghost />}
          <SpeakerBox {...shared} setup={setup} />
          <Distances {...shared} setup={setup} />
          <circle class="microphone" cx={round(microphone.x)} cy={round(microphone.y)} r="6" />
          <path
            class="microphone-cross"
            d={`M${round(microphone.x - 9)} ${round(microphone.y)}h18M${round(microphone.x)} ${round(microphone.y - 9)}v18`}
          />
        </g>
        <SpeakerHandle
          at={at('speakerM')}
          svg={svg}
          view={view}
          name={name}
          scale={frame.scale}
          setup={setup}
          placed={placed}
          moves={moves}
        />
      </svg>
    </figure>
  );
}

const round = (value: number) => Math.round(value * 10) / 10;
