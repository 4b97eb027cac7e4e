import type { RefObject, TargetedKeyboardEvent, TargetedPointerEvent } from 'preact';
import { useRef } from 'preact/hooks';
import type { Setup } from '../../src/acoustics/setup.js';
import { formatLength } from '../../src/units/formatLength.js';
import type { Point, View } from './drawingFrame.js';
import type { Way } from './moveSpeaker.js';
import type { PlacedSetup } from './placeSetup.js';
import type { Axis } from './surfaceSides.js';
import type { SpeakerMoves } from './useSpeakerMoves.js';

const STEP_M = { cm: 0.01, in: 0.0127 };
const FAR_STEPS = 10;
const REACH = 24;

const ARROWS: Readonly<Record<string, readonly ['right' | 'down', 1 | -1]>> = {
  ArrowLeft: ['right', -1],
  ArrowRight: ['right', 1],
  ArrowUp: ['down', -1],
  ArrowDown: ['down', 1],
};

interface SpeakerHandleProps {
  readonly at: Point;
  readonly svg: RefObject<SVGSVGElement | null>;
  readonly view: View;
  readonly name: string;
  readonly scale: number;
  readonly setup: Setup;
  readonly placed: PlacedSetup;
  readonly moves: SpeakerMoves;
}

/** Where the speaker is taken hold of, by pointer or by keyboard. */
export function SpeakerHandle({ at, svg, view, name, scale, setup, placed, moves }: SpeakerHandleProps) {
  const grip = useRef<Point | undefined>(undefined);
  const movable = ([axis]: readonly [Axis, string]) => placed.axes[axis].from !== undefined;
  const axes = (
    [
      [view.right, 'right'],
      [view.down, 'down'],
    ] as const
  ).filter(movable);
  const said = axes.map(([axis]) => distanceWords(setup, placed, axis)).join(', ');
  const main = placed.axes[axes.at(-1)?.[0] ?? 'x'];

  const inDrawing = (event: TargetedPointerEvent<SVGGElement>): Point | undefined => {
    const matrix = svg.current?.getScreenCTM();
    return matrix ? new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse()) : undefined;
  };
  const wayOf = (right: number, down: number): Way => ({
    [view.right]: right,
    [view.down]: down * view.downSign,
  });
  const take = (event: TargetedPointerEvent<SVGGElement>) => {
    if (event.button !== 0) return;
    grip.current = inDrawing(event);
    event.currentTarget.setPointerCapture(event.pointerId);
    moves.beginDrag();
  };
  const follow = (event: TargetedPointerEvent<SVGGElement>) => {
    const now = grip.current && inDrawing(event);
    if (now) moves.dragBy(wayOf((now.x - grip.current!.x) / scale, (now.y - grip.current!.y) / scale));
  };
  const release = (end: () => void) => () => {
    grip.current = undefined;
    end();
  };
  const press = (event: TargetedKeyboardEvent<SVGGElement>) => {
    if (event.key === 'Escape' && grip.current) release(moves.cancelDrag)();
    const arrow = ARROWS[event.key];
    if (!arrow || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    const stepM = STEP_M[setup.lengthUnit] * (event.shiftKey ? FAR_STEPS : 1) * arrow[1];
    moves.nudge(arrow[0] === 'right' ? wayOf(stepM, 0) : wayOf(0, stepM));
  };

  if (axes.length === 0 || !main.from) return null;
  const distanceM = setup.surfaces[main.from.index]!.speakerDistance.m;
  return (
    <g
      class="handle"
      role="slider"
      tabindex={0}
      aria-roledescription="speaker on a plan"
      aria-label={`Speaker, ${name.toLowerCase()}: arrow keys move it by ${formatLength(STEP_M[setup.lengthUnit], setup.lengthUnit)}, with Shift ten times as far`}
      aria-orientation={axes.at(-1)?.[1] === 'down' ? 'vertical' : 'horizontal'}
      aria-valuemin={0}
      aria-valuemax={Math.max(500, Math.ceil(distanceM * 100))}
      aria-valuenow={Math.round(distanceM * 1000) / 10}
      aria-valuetext={said}
      onPointerDown={take}
      onPointerMove={follow}
      onPointerUp={release(moves.endDrag)}
      onPointerCancel={release(moves.cancelDrag)}
      onLostPointerCapture={release(moves.endDrag)}
      onKeyDown={press}
      onKeyUp={moves.endNudges}
      onBlur={moves.endNudges}
    >
      <circle class="reach" cx={r(at.x)} cy={r(at.y)} r={REACH} />
      {axes.map(([, direction]) => (
        <path class="arrows" d={arrows(at, direction)} />
      ))}
    </g>
  );
}

function distanceWords(setup: Setup, placed: PlacedSetup, axis: Axis): string {
  const { name, speakerDistance } = setup.surfaces[placed.axes[axis].from!.index]!;
  return `${formatLength(speakerDistance.m, setup.lengthUnit)} from ${name}`;
}

/** Two small heads that show which way it can go. */
function arrows({ x, y }: Point, direction: string): string {
  const tip = REACH - 1;
  return direction === 'right'
    ? `M${r(x - tip)} ${r(y)}l5 -4v8zM${r(x + tip)} ${r(y)}l-5 -4v8z`
    : `M${r(x)} ${r(y - tip)}l-4 5h8zM${r(x)} ${r(y + tip)}l-4 -5h8z`;
}

const r = (value: number) => Math.round(value * 10) / 10;
