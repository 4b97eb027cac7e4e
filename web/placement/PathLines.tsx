import type { Setup } from '../../src/acoustics/setup.js';
import { type DrawingFrame, isInFrame, toDrawing, type View } from './drawingFrame.js';
import type { PlacedSetup, PlacedSurface } from './placeSetup.js';
import { reflectionPoint } from './reflectionPoint.js';
import type { Axis } from './surfaceSides.js';
import { tone } from './tone.js';

interface PathLinesProps {
  readonly frame: DrawingFrame;
  readonly view: View;
  readonly placed: PlacedSetup;
  readonly surfaces: readonly PlacedSurface[];
  readonly setup: Setup;
  readonly highlighted: string | undefined;
}

/** The straight way of the sound and the ways by the surfaces. */
export function PathLines({ frame, view, placed, surfaces, setup, highlighted }: PathLinesProps) {
  const point = (place: Readonly<Record<Axis, number>>) => {
    const { x, y } = toDrawing(frame, view, place[view.right], place[view.down]);
    return `${round(x)} ${round(y)}`;
  };
  const end = (which: 'speakerM' | 'microphoneM') =>
    point({ x: placed.axes.x[which], y: placed.axes.y[which], z: placed.axes.z[which] });
  const [speaker, microphone] = [end('speakerM'), end('microphoneM')];
  return (
    <>
      {surfaces
        .filter((surface) => isInFrame(frame, surface))
        .map((surface) => {
          const lit = setup.surfaces[surface.index]!.name === highlighted;
          return (
            <path
              key={surface.index}
              class={`reflected ${tone(surface.index)}${lit ? ' highlighted' : ''}`}
              d={`M${speaker}L${point(reflectionPoint(placed, surface))}L${microphone}`}
            />
          );
        })}
      <path class="direct" d={`M${speaker}L${microphone}`} />
    </>
  );
}

const round = (value: number) => Math.round(value * 10) / 10;
