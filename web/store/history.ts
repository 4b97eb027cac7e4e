/** What can be undone and redone, as snapshots; `T` is never changed, only replaced. */
export interface History<T> {
  readonly present: T;
  /** Oldest first. */
  readonly past: readonly Step<T>[];
  /** Next to be redone last. */
  readonly future: readonly Step<T>[];
  /** The gesture that is under way: what is recorded with this tag belongs to its step. */
  readonly gesture?: string;
}

/** One change: the state on its other side, and what the user would call it. */
export interface Step<T> {
  readonly state: T;
  readonly label: string;
}

export interface Change {
  /** What was done, for "Undo: …". */
  readonly label: string;
  /** Names the gesture, such as a drag: all that is recorded with one tag until `endGesture` becomes one step. */
  readonly tag?: string;
}

/** Beyond this the oldest steps are let go. */
export const MAX_STEPS = 200;

export function startHistory<T>(present: T): History<T> {
  return { present, past: [], future: [] };
}

/** Takes `next` as the present; what had been undone can no longer be redone. The same object is no change. */
export function record<T>(history: History<T>, next: T, { label, tag }: Change): History<T> {
  const { present, past, gesture } = history;
  if (Object.is(next, present)) return history;
  if (tag !== undefined && tag === gesture) return { ...history, present: next, future: [] };
  return {
    present: next,
    past: [...past, { state: present, label }].slice(-MAX_STEPS),
    future: [],
    ...(tag !== undefined && { gesture: tag }),
  };
}

/** The pointer was let go, the key released: the next change is a step of its own, whatever its tag. */
export function endGesture<T>({ present, past, future }: History<T>): History<T> {
  return { present, past, future };
}

/** One step back; the same history where there is none. A gesture under way ends with it. */
export function undo<T>(history: History<T>): History<T> {
  const step = history.past.at(-1);
  if (!step) return endGesture(history);
  return {
    present: step.state,
    past: history.past.slice(0, -1),
    future: [...history.future, { state: history.present, label: step.label }],
  };
}

/** One step forward again; the same history where nothing was undone. */
export function redo<T>(history: History<T>): History<T> {
  const step = history.future.at(-1);
  if (!step) return endGesture(history);
  return {
    present: step.state,
    past: [...history.past, { state: history.present, label: step.label }],
    future: history.future.slice(0, -1),
  };
}

/** What undoing would take back; undefined where there is nothing. */
export function undoLabel<T>({ past }: History<T>): string | undefined {
  return past.at(-1)?.label;
}

export function redoLabel<T>({ future }: History<T>): string | undefined {
  return future.at(-1)?.label;
}
