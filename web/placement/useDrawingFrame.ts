import { useRef } from 'preact/hooks';
import { type DrawingFrame, drawingFrame } from './drawingFrame.js';
import type { PlacedSetup } from './placeSetup.js';

/** The frame of the drawings: it stays while the speaker moves about in it, so that nothing but the speaker moves. */
export function useDrawingFrame(
  placed: PlacedSetup,
  reference: PlacedSetup,
  dragging: boolean,
): DrawingFrame {
  const kept = useRef<{ readonly frame: DrawingFrame; readonly surfaces: string } | undefined>(undefined);
  const surfaces = placed.surfaces.map(({ axis, end }) => `${axis}${end}`).join();
  const fits =
    kept.current !== undefined &&
    kept.current.surfaces === surfaces &&
    (dragging || holds(kept.current.frame, placed));
  if (!fits) kept.current = { frame: drawingFrame([reference, placed]), surfaces };
  return kept.current!.frame;
}

function holds({ spans }: DrawingFrame, { axes, surfaces }: PlacedSetup): boolean {
  const inside = (['x', 'y', 'z'] as const).every((axis) => {
    const { fromM, toM } = spans[axis];
    return [axes[axis].speakerM, axes[axis].microphoneM].every((m) => m >= fromM && m <= toM);
  });
  // Surfaces that came into reach or moved: a corrected set-up.
  return inside && surfaces.every(({ axis, atM }) => Math.abs(atM) < 1e-9 || nearEdge(spans[axis], atM));
}

function nearEdge({ fromM, toM }: { readonly fromM: number; readonly toM: number }, atM: number): boolean {
  return atM <= fromM + 0.1 || atM >= toM - 0.1;
}
