import { hypot } from '../../elementary/power.js';

/** A round mark beside a curve: where it wants to be, and to which side it may give way. */
export interface MarkWish {
  readonly x: number;
  readonly y: number;
  readonly side: 'above' | 'below';
}

/**
 * Moves marks of one size apart: in order of x, each gives way to its own side, away from the curve, until it
 * touches none that is already placed; at the edge of the panel it tries the other side.
 */
export function placeMarks(
  wishes: readonly MarkWish[],
  diameter: number,
  top: number,
  bottom: number,
): { x: number; y: number }[] {
  const order = wishes.map((_, i) => i).sort((a, b) => wishes[a]!.x - wishes[b]!.x || a - b);
  const placed: { x: number; y: number }[] = [];
  const result = wishes.map(({ x, y }) => ({ x, y }));
  const clamp = (y: number) => Math.max(top + diameter / 2, Math.min(bottom - diameter / 2, y));
  for (const i of order) {
    const { x, y, side } = wishes[i]!;
    const outward = side === 'above' ? -1 : 1;
    const steps = Array.from({ length: 24 }, (_, k) => k * (diameter / 2));
    const candidates = [...steps.map((s) => y + outward * s), ...steps.map((s) => y - outward * s)].map(
      clamp,
    );
    const free = candidates.find((candidate) =>
      placed.every((other) => hypot(other.x - x, other.y - candidate) >= diameter),
    );
    const place = { x, y: free ?? clamp(y) };
    placed.push(place);
    result[i] = place;
  }
  return result;
}
