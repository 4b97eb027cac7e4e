import type { Project } from '../store/project.js';
import type { DrawnTarget } from '../store/projectOptions.js';
import { change } from './session.js';

type Breakpoint = DrawnTarget['breakpoints'][number];

function withPoints(value: Project, edit: (points: readonly Breakpoint[]) => readonly Breakpoint[]): Project {
  const { target } = value.options;
  const points = edit(target === undefined || target === 'flat' ? [] : target.breakpoints);
  if (points.length >= 2) return { ...value, options: { ...value.options, target: { breakpoints: points } } };
  const { target: _, ...options } = value.options;
  return { ...value, options };
}

const REFIT = { refit: true };

/** A target with corners to pull, flat at first. */
export function beginDrawing(): void {
  const flat = [50, 200, 1000, 5000, 16000].map((frequency) => ({ frequency, level: 0 }));
  change('draw the target', (value) => withPoints(value, () => flat), REFIT);
}

export function endDrawing(): void {
  change('take the drawn target away', (value) => withPoints(value, () => []), REFIT);
}

/** Corners keep their order and stay a little apart. */
export function editBreakpoint(at: number, next: Partial<Breakpoint>, tag?: string): void {
  change(
    'move a corner of the target',
    (value) =>
      withPoints(value, (points) =>
        points.map((point, i) => {
          if (i !== at) return point;
          const { frequency, level } = { ...point, ...next };
          const least = (points[i - 1]?.frequency ?? 5) * 1.01;
          const most = (points[i + 1]?.frequency ?? 50_000) / 1.01;
          return {
            frequency: Number(Math.min(Math.max(frequency, least), most).toPrecision(4)),
            level: Math.round(Math.min(40, Math.max(-40, level)) * 10) / 10,
          };
        }),
      ),
    { ...REFIT, ...(tag !== undefined && { tag }) },
  );
}

export function removeBreakpoint(at: number): void {
  change(
    'remove a corner of the target',
    (value) => withPoints(value, (points) => points.filter((_, i) => i !== at)),
    REFIT,
  );
}

/** One more corner in the widest gap. */
export function addBreakpoint(): void {
  change(
    'add a corner to the target',
    (value) =>
      withPoints(value, (points) => {
        let widest = 1;
        for (let i = 2; i < points.length; i++) {
          const gap = (k: number) => points[k]!.frequency / points[k - 1]!.frequency;
          if (gap(i) > gap(widest)) widest = i;
        }
        const [a, b] = [points[widest - 1]!, points[widest]!];
        const fresh = {
          frequency: Number(Math.sqrt(a.frequency * b.frequency).toPrecision(3)),
          level: Math.round(((a.level + b.level) / 2) * 10) / 10,
        };
        return [...points.slice(0, widest), fresh, ...points.slice(widest)];
      }),
    REFIT,
  );
}
