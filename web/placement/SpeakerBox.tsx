import type { Setup } from '../../src/acoustics/setup.js';
import { type DrawingFrame, toDrawing, type View } from './drawingFrame.js';
import type { PlacedSetup } from './placeSetup.js';

const USUAL_WIDTH_M = 0.18;
/** Depth and height of a small box over its width; `common practice, no published source`. */
const DEPTH = 1.2;
const HALF_HEIGHT = 0.8;

interface SpeakerBoxProps {
  readonly frame: DrawingFrame;
  readonly view: View;
  readonly placed: PlacedSetup;
  readonly setup: Setup;
  readonly ghost?: boolean;
}

/** The box behind the point that distances are taken from; never drawn into the wall behind or the desk below. */
export function SpeakerBox({ frame, view, placed, setup, ghost = false }: SpeakerBoxProps) {
  const widthM = setup.baffleWidthM ?? USUAL_WIDTH_M;
  const { x, y, z } = placed.axes;
  const nearest = (axis: 'x' | 'z') =>
    Math.max(...placed.surfaces.filter((s) => s.axis === axis && s.end === -1).map(({ atM }) => atM), -1e9);
  const box = {
    x: [Math.max(x.speakerM - DEPTH * widthM, nearest('x')), x.speakerM],
    y: [y.speakerM - widthM / 2, y.speakerM + widthM / 2],
    z: [Math.max(z.speakerM - HALF_HEIGHT * widthM, nearest('z')), z.speakerM + HALF_HEIGHT * widthM],
  } as const;
  const a = toDrawing(frame, view, box[view.right][0], box[view.down][0]);
  const b = toDrawing(frame, view, box[view.right][1], box[view.down][1]);
  const front = toDrawing(frame, view, placed.axes[view.right].speakerM, placed.axes[view.down].speakerM);
  return (
    <g class={ghost ? 'box ghost' : 'box'}>
      <rect
        x={round(Math.min(a.x, b.x))}
        y={round(Math.min(a.y, b.y))}
        width={round(Math.abs(b.x - a.x))}
        height={round(Math.abs(b.y - a.y))}
        rx="2"
      />
      {!ghost && <circle class="centre" cx={round(front.x)} cy={round(front.y)} r="3.5" />}
    </g>
  );
}

const round = (value: number) => Math.round(value * 10) / 10;
