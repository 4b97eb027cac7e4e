import { cleanText } from '../../src/export/words/cleanText.js';
import { shorten } from '../../src/export/words/shorten.js';
import { type DrawingFrame, drawingSize, isInFrame, MARGIN, toDrawing, type View } from './drawingFrame.js';
import type { PlacedSetup, PlacedSurface } from './placeSetup.js';
import { tone } from './tone.js';

const HATCH = 9;
const LONGEST_NAME = 22;
/** From the number's middle to the name, and what a letter of it takes at most on average, in drawing units. */
const NAME_AT = 13;
const LETTER = 6.2;

interface SurfaceLineProps {
  readonly frame: DrawingFrame;
  readonly view: View;
  readonly placed: PlacedSetup;
  readonly surface: PlacedSurface;
  readonly name: string;
  readonly highlighted: boolean;
  readonly onHighlight: ((surface: string | undefined) => void) | undefined;
}

/** A plane as it is cut by the view: a line, hatched where nothing can be; dotted at the edge where it lies farther out. */
export function SurfaceLine(props: SurfaceLineProps) {
  const { frame, view, surface, name, highlighted, onHighlight } = props;
  const { width, height } = drawingSize(frame, view);
  const upright = surface.axis === view.right;
  const inFrame = isInFrame(frame, surface);
  /** Which way out of the drawing: −1 is up or left. */
  const out = upright ? surface.end : surface.end * view.downSign;
  const at = upright
    ? inFrame
      ? MARGIN + (surface.atM - frame.spans[surface.axis].fromM) * frame.scale
      : edge(out, width)
    : inFrame
      ? MARGIN + offsetDown(frame, view, surface.atM)
      : edge(out, height);
  const [from, to] = [MARGIN - 12, (upright ? height : width) - MARGIN + 12];
  const label = shorten(cleanText(name), LONGEST_NAME);
  const words = inFrame ? label : `${label}, farther out`;
  return (
    <g
      class={`surface ${tone(surface.index)}${highlighted ? ' highlighted' : ''}${inFrame ? '' : ' far'}`}
      onPointerEnter={() => onHighlight?.(name)}
      onPointerLeave={() => onHighlight?.(undefined)}
    >
      <title>{cleanText(name)}</title>
      <path class="line" d={upright ? `M${round(at)} ${from}V${to}` : `M${from} ${round(at)}H${to}`} />
      {inFrame && <path class="hatch" d={hatch(at, from, to, upright, out)} />}
      <g class="label" transform={labelPlace(props, at, out, NAME_AT + LETTER * words.length)}>
        <circle class="number-ground" r="8" />
        <text class="number" text-anchor="middle" y="4">
          {String(surface.index + 1)}
        </text>
        <text class="name" x={NAME_AT} y="4">
          {words}
        </text>
      </g>
    </g>
  );
}

/** Inside the drawing beside the line, `length` long, at the end that the speaker is farther from. */
function labelPlace(
  { frame, view, placed, surface }: SurfaceLineProps,
  at: number,
  out: number,
  length: number,
): string {
  const { width, height } = drawingSize(frame, view);
  const { right, down } = view;
  const speaker = toDrawing(frame, view, placed.axes[right].speakerM, placed.axes[down].speakerM);
  const beside = round(at - out * 13);
  if (surface.axis === right) {
    const top = speaker.y > height / 2;
    return `translate(${beside} ${round(top ? Math.min(MARGIN + length, height - MARGIN) : height - MARGIN - 24)}) rotate(-90)`;
  }
  const atRight = speaker.x < width / 2;
  return `translate(${round(atRight ? Math.max(width - MARGIN - length, MARGIN) : MARGIN + 28)} ${beside})`;
}

function offsetDown({ spans, scale }: DrawingFrame, { down, downSign }: View, m: number): number {
  return (downSign === 1 ? m - spans[down].fromM : spans[down].toM - m) * scale;
}

const edge = (out: number, length: number) => (out < 0 ? MARGIN : length - MARGIN);

/** Short strokes on the side that sound does not reach. */
function hatch(at: number, from: number, to: number, upright: boolean, out: number): string {
  const strokes: string[] = [];
  for (let p = from + HATCH; p <= to; p += HATCH) {
    strokes.push(
      upright ? `M${round(at)} ${round(p)}l${out * 7} -7` : `M${round(p)} ${round(at)}l-7 ${out * 7}`,
    );
  }
  return strokes.join('');
}

const round = (value: number) => Math.round(value * 10) / 10;
