import type { PlacedSetup, PlacedSurface } from './placeSetup.js';
import type { Axis } from './surfaceSides.js';

/** A view straight along one axis: which axis runs to the right, which downward, and whether downward is against it. */
export interface View {
  readonly right: Axis;
  readonly down: Axis;
  /** −1 where the vertical axis points upward on the screen. */
  readonly downSign: 1 | -1;
}

/** From above: the wall behind the speaker is on top, the listener at the bottom. */
export const fromAbove: View = { right: 'y', down: 'x', downSign: 1 };
/** From the side: the wall behind is at the left, up is up. */
export const fromSide: View = { right: 'x', down: 'z', downSign: -1 };

interface Span {
  readonly fromM: number;
  readonly toM: number;
}

/** What part of the world the drawings show. Both views share its scale. */
export interface DrawingFrame {
  readonly spans: Readonly<Record<Axis, Span>>;
  /** Drawing units for a metre. */
  readonly scale: number;
}

/** Farther than this from speaker and microphone a surface is only hinted at, at the drawing's edge. */
const FARTHEST_M = 2.2;
const ROOM_TO_MOVE_M = 0.25;
const LEAST_SPAN_M = 0.7;
/** Inside the margin, in drawing units. */
const WIDTH = 316;
const HEIGHT = 330;
export const MARGIN = 22;

/** A frame for set-ups that hold the same surfaces: as measured, and as moved. */
export function drawingFrame(placed: readonly PlacedSetup[]): DrawingFrame {
  const span = (axis: Axis) => spanOf(placed, axis);
  const spans = { x: span('x'), y: span('y'), z: span('z') };
  const size = ({ fromM, toM }: Span) => toM - fromM;
  const scale = Math.min(
    WIDTH / size(spans.y),
    WIDTH / size(spans.x),
    HEIGHT / size(spans.x),
    HEIGHT / size(spans.z),
  );
  return { spans, scale };
}

function spanOf(placed: readonly PlacedSetup[], axis: Axis): Span {
  const points = placed.flatMap(({ axes }) => [axes[axis].speakerM, axes[axis].microphoneM]);
  const [least, most] = [Math.min(...points), Math.max(...points)];
  const surfaces = placed.flatMap((each) => each.surfaces).filter((surface) => surface.axis === axis);
  const shown = surfaces.map(({ atM }) => atM).filter((m) => m > least - FARTHEST_M && m < most + FARTHEST_M);
  const hinted = (end: -1 | 1) =>
    surfaces.some((s) => s.end === end) && !shown.some((m) => (m - least) * end > 0);
  const fromM = Math.min(...shown, least - (hinted(-1) ? 2 : 1) * ROOM_TO_MOVE_M);
  const toM = Math.max(...shown, most + (hinted(1) ? 2 : 1) * ROOM_TO_MOVE_M);
  const missing = Math.max(0, LEAST_SPAN_M - (toM - fromM)) / 2;
  return { fromM: fromM - missing, toM: toM + missing };
}

/** Whether a surface is drawn where it is, or only hinted at. */
export function isInFrame({ spans }: DrawingFrame, { axis, atM }: PlacedSurface): boolean {
  const { fromM, toM } = spans[axis];
  return atM >= fromM - 1e-9 && atM <= toM + 1e-9;
}

/** The drawing's size in its own units. */
export function drawingSize({ spans, scale }: DrawingFrame, view: View): { width: number; height: number } {
  const length = (axis: Axis) => (spans[axis].toM - spans[axis].fromM) * scale + 2 * MARGIN;
  return { width: length(view.right), height: length(view.down) };
}

export interface Point {
  readonly x: number;
  readonly y: number;
}

/** A place in metres on the view's two axes to drawing units. */
export function toDrawing({ spans, scale }: DrawingFrame, view: View, rightM: number, downM: number): Point {
  const { right, down, downSign } = view;
  const y = downSign === 1 ? downM - spans[down].fromM : spans[down].toM - downM;
  return { x: MARGIN + (rightM - spans[right].fromM) * scale, y: MARGIN + y * scale };
}
