import { type ReadonlySignal, useComputed } from '@preact/signals';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { movedDesign, movedSmoothedDb } from '../state/elsewhere.js';
import { measuredAgain } from '../state/found.js';
import { project } from '../state/present.js';
import { filters, shown } from '../state/shown.js';
import { cursorHz, selectedFilter, shows, view } from './chartState.js';
import { combOfSelected } from './combOfSelected.js';
import { FilterMarks } from './FilterMarks.js';
import { FindingMarks } from './FindingMarks.js';
import { eqYOf, type Frame, pathOf, type View, xOf, yOf } from './frame.js';
import { maskEdges } from './maskEdges.js';
import { TargetMarks } from './TargetMarks.js';
import { ZoneMarks } from './ZoneMarks.js';

/** Two stretches of the axis hold the moving curves to the panels. */
function Clips({ frame }: { readonly frame: Frame }) {
  const { left, right, top, middle, lower, bottom } = frame;
  return (
    <defs>
      <clipPath id="clip-upper">
        <rect x={left} y={top} width={right - left} height={middle - top} />
      </clipPath>
      <clipPath id="clip-lower">
        <rect x={left} y={lower} width={right - left} height={bottom - lower} />
      </clipPath>
    </defs>
  );
}

interface Place {
  readonly frame: Frame;
  readonly now: View;
}

/** What moves under the hand: expected curve, filters, target, what-if. */
function MovingCurves({ frame, now }: Place) {
  const design = shown.value;
  if (!design) return null;
  const drawn = shows.value;
  const { curves, sampleRateHz } = design;
  const x = (hz: number) => xOf(frame, now, hz);
  const upper = (levelDb: ArrayLike<number>) =>
    pathOf(x, (db) => yOf(frame, now, db), curves.frequencyHz, levelDb, now);
  const lower = (levelDb: ArrayLike<number>) =>
    pathOf(x, (db) => eqYOf(frame, now, db), curves.frequencyHz, levelDb, now);
  const grid = Float64Array.from(curves.frequencyHz);
  const one = (i: number) => {
    const each = filters.value[i];
    return each?.on ? lower(bankResponseDb([each.filter], sampleRateHz, grid)) : undefined;
  };
  const selected = selectedFilter.value;
  const singles = drawn.single ? filters.value.map((_, i) => i) : selected === undefined ? [] : [selected];
  const comb = combOfSelected(design);
  const again = measuredAgain.value;
  const there = movedSmoothedDb.value;
  const after = movedDesign.value?.curves;
  const zero = eqYOf(frame, now, 0);
  return (
    <>
      <g clip-path="url(#clip-upper)">
        <MaskArea frame={frame} now={now} />
        {drawn.target && <path class="curve curve-target" d={upper(curves.targetDb)} />}
        {comb && (
          <path
            class="curve curve-comb"
            d={pathOf(x, (db) => yOf(frame, now, db), comb.frequencyHz, comb.levelDb, now)}
          />
        )}
        {drawn.expected && (
          <path
            class="curve curve-expected"
            d={upper(curves.smoothedDb.map((db, i) => db + curves.eqDb[i]!))}
          />
        )}
        {again && (
          <path
            class="curve curve-again"
            d={pathOf(x, (db) => yOf(frame, now, db), again.frequencyHz, again.measuredDb, now)}
          />
        )}
        {there && <path class="curve curve-what-if" d={upper(there)} />}
        {there && after && (
          <path
            class="curve curve-what-if-after"
            d={upper(after.smoothedDb.map((db, i) => db + after.eqDb[i]!))}
          />
        )}
      </g>
      <g clip-path="url(#clip-lower)">
        <line class="zero" x1={frame.left} x2={frame.right} y1={zero} y2={zero} />
        {singles.map((i) => (
          <path key={i} class={`curve curve-single ${i === selected ? 'chosen' : ''}`} d={one(i) ?? ''} />
        ))}
        {drawn.sum && <path class="curve curve-sum" d={lower(curves.eqDb)} />}
      </g>
    </>
  );
}

/** The tolerance mask around the target. */
function MaskArea({ frame, now }: Place) {
  const design = shown.value;
  if (!design || !shows.value.mask) return null;
  const edges = maskEdges(project.value.mask, design.curves);
  if (!edges) return null;
  const line = (levelDb: readonly number[]) =>
    pathOf(
      (hz) => xOf(frame, now, hz),
      (db) => yOf(frame, now, db),
      edges.frequencyHz,
      levelDb,
      now,
    );
  return (
    <>
      <path class="curve curve-mask" d={line(edges.upperDb)} />
      <path class="curve curve-mask" d={line(edges.lowerDb)} />
    </>
  );
}

function Cursor({ frame, now }: Place) {
  const hz = cursorHz.value;
  if (hz === undefined || hz < now.fromHz || hz > now.toHz) return null;
  const x = xOf(frame, now, hz);
  return <line class="cursor" x1={x} x2={x} y1={frame.top} y2={frame.bottom} />;
}

/** Everything that the page draws over the chart: curves that move, and marks that can be taken hold of. */
export function Overlay({ frame }: { readonly frame: ReadonlySignal<Frame> }) {
  const ready = useComputed(
    () => shown.value !== undefined && frame.value.width > 60 && frame.value.height > 60,
  );
  const now = view.value;
  if (!ready.value || !now) return null;
  const place = { frame: frame.value, now };
  return (
    // biome-ignore lint/a11y/useSemanticElements: there is no fieldset inside a drawing
    <svg
      class="overlay"
      width={place.frame.width}
      height={place.frame.height}
      role="group"
      aria-label="Marks on the chart"
    >
      <Clips frame={place.frame} />
      <ZoneMarks {...place} />
      <MovingCurves {...place} />
      <Cursor {...place} />
      <FindingMarks {...place} />
      <TargetMarks {...place} />
      <FilterMarks {...place} />
    </svg>
  );
}
