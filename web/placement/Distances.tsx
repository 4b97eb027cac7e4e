import type { Setup } from '../../src/acoustics/setup.js';
import { formatLength } from '../../src/units/formatLength.js';
import { type DrawingFrame, drawingSize, isInFrame, MARGIN, toDrawing, type View } from './drawingFrame.js';
import type { PlacedSetup } from './placeSetup.js';

/** How far beside the speaker its distance from the plane across the view is drawn. */
const ASIDE = 30;
const SHORT = 110;
const CLEAR = 36;

interface DistancesProps {
  readonly frame: DrawingFrame;
  readonly view: View;
  readonly placed: PlacedSetup;
  readonly setup: Setup;
}

/** The speaker's distances from the planes that it is measured from, as a draughtsman writes them. */
export function Distances({ frame, view, placed, setup }: DistancesProps) {
  const { right, down } = view;
  const speaker = toDrawing(frame, view, placed.axes[right].speakerM, placed.axes[down].speakerM);
  const origin = toDrawing(frame, view, placed.axes[right].from?.atM ?? 0, placed.axes[down].from?.atM ?? 0);
  const { width } = drawingSize(frame, view);
  const aside = speaker.x + ASIDE + 44 < width - MARGIN ? 1 : -1;
  const x = speaker.x + aside * ASIDE;
  const said = (index: number) => formatLength(setup.surfaces[index]!.speakerDistance.m, setup.lengthUnit);
  // A short way to a plane at the left is written clear of the box: before it from above, over it from the side.
  const y = speaker.x - origin.x < SHORT ? speaker.y + view.downSign * CLEAR : speaker.y;
  const across = placed.axes[down].from;
  const upright = placed.axes[right].from;
  return (
    <>
      {across && isInFrame(frame, across) && (
        <g class="distance">
          <path
            d={`M${r(x)} ${r(origin.y)}V${r(speaker.y)}M${r(x - 4)} ${r(origin.y)}h8M${r(x - 4)} ${r(speaker.y)}h8`}
          />
          <text
            x={r(x + aside * 6)}
            y={r((origin.y + speaker.y) / 2 + 4)}
            text-anchor={aside > 0 ? 'start' : 'end'}
          >
            {said(across.index)}
          </text>
        </g>
      )}
      {upright && isInFrame(frame, upright) && (
        <g class="distance">
          <path
            d={`M${r(origin.x)} ${r(y)}H${r(speaker.x)}M${r(origin.x)} ${r(y - 4)}v8M${r(speaker.x)} ${r(y - 4)}v8`}
          />
          <text x={r((origin.x + speaker.x) / 2)} y={r(y - 6)} text-anchor="middle">
            {said(upright.index)}
          </text>
        </g>
      )}
    </>
  );
}

const r = (value: number) => Math.round(value * 10) / 10;
