import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  endGesture,
  MAX_STEPS,
  record,
  redo,
  redoLabel,
  startHistory,
  undo,
  undoLabel,
} from '../../../web/store/history.js';

const drag = { label: 'move the filter', tag: 'filter 1' };

describe('history', () => {
  test('undo and redo walk back and forth through what was recorded', () => {
    let h = record(record(startHistory(0), 1, { label: 'one' }), 2, { label: 'two' });
    expect([undoLabel(h), redoLabel(h)]).toEqual(['two', undefined]);
    h = undo(h);
    expect([h.present, undoLabel(h), redoLabel(h)]).toEqual([1, 'one', 'two']);
    h = undo(undo(h));
    expect([h.present, undoLabel(h), redoLabel(h)]).toEqual([0, undefined, 'one']);
    h = redo(redo(redo(h)));
    expect([h.present, redoLabel(h)]).toEqual([2, undefined]);
  });

  test('what one gesture records with one tag is one step', () => {
    let h = startHistory(0);
    for (let i = 1; i <= 50; i++) h = record(h, i, drag);
    expect(h.past).toHaveLength(1);
    expect(undo(h).present).toBe(0);
    expect(redo(undo(h)).present).toBe(50);
  });

  test('another tag, no tag, the end of the gesture or an undo begins a new step', () => {
    const begun = record(startHistory(0), 1, drag);
    expect(record(begun, 2, { ...drag, tag: 'filter 2' }).past).toHaveLength(2);
    expect(record(begun, 2, { label: 'type' }).past).toHaveLength(2);
    expect(record(endGesture(begun), 2, drag).past).toHaveLength(2);
    expect(record(undo(begun), 2, drag).past).toHaveLength(1);
    expect(record(record(begun, 2, { label: 'type' }), 3, drag).past).toHaveLength(3);
  });

  test('a new change forgets what could be redone; no change forgets nothing', () => {
    const undone = undo(record(startHistory(0), 1, { label: 'one' }));
    expect(record(undone, 2, { label: 'two' }).future).toEqual([]);
    expect(record(undone, 0, { label: 'nothing' })).toBe(undone);
  });

  test('the oldest steps are let go', () => {
    let h = startHistory(0);
    for (let i = 1; i <= MAX_STEPS + 10; i++) h = record(h, i, { label: String(i) });
    expect(h.past).toHaveLength(MAX_STEPS);
    for (let i = 0; i < MAX_STEPS + 10; i++) h = undo(h);
    expect(h.present).toBe(10);
  });

  test('however changes, undos and redos are mixed, undoing all gives the first state and redoing all the last', () => {
    const step = fc.oneof(
      fc.constant('undo'),
      fc.constant('redo'),
      fc.constant('end'),
      fc.constantFrom('a', 'b', ''),
    );
    fc.assert(
      fc.property(fc.array(step, { maxLength: 60 }), (steps) => {
        let h = startHistory({ n: 0 });
        const first = h.present;
        steps.forEach((what, n) => {
          if (what === 'undo') h = undo(h);
          else if (what === 'redo') h = redo(h);
          else if (what === 'end') h = endGesture(h);
          else h = record(h, { n }, { label: what, ...(what && { tag: what }) });
        });
        let last = h;
        while (last.future.length > 0) last = redo(last);
        let back = last;
        while (back.past.length > 0) back = undo(back);
        expect(back.present).toBe(first);
        let forth = back;
        while (forth.future.length > 0) forth = redo(forth);
        expect(forth.present).toBe(last.present);
      }),
      { seed: 8, numRuns: 200 },
    );
  });
});
