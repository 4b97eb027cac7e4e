import { placeMarks } from '../../src/export/plot/placeMarks.js';
import { filterTypeName } from '../../src/export/words/filterTypeName.js';
import { typeset } from '../../src/export/words/typeset.js';
import { filterWords } from '../sheet/filterWords.js';
import { editFilter, letterOf, lockFilter, removeFilter, switchFilter } from '../state/filterEdits.js';
import { endOfGesture } from '../state/session.js';
import { filters } from '../state/shown.js';
import type { ProjectFilter } from '../store/project.js';
import { selectedFilter } from './chartState.js';
import { drag } from './drag.js';
import { eqDbAt, eqYOf, type Frame, hzAt, type View, xOf } from './frame.js';

const OCTAVE_STEP = 2 ** (1 / 48);
const COARSE_STEP = 2 ** (1 / 6);

/** From its point to its far end, in pixels. */
const PENNANT = 22;
/** What bears the letter: its height, and how far its middle stands off the point where nothing is in its way. */
const CLOTH = 15;
const CLOTH_AWAY = PENNANT - CLOTH / 2;
/** Between the middles of two of them, which are 16 pixels wide. */
const APART = 20;

interface Place {
  readonly frame: Frame;
  readonly now: View;
}

/** Each filter as a pennant at its frequency and gain; the chosen one has two feet that set how wide it is. */
export function FilterMarks(place: Place) {
  const { frame, now } = place;
  const inSight = filters.value.flatMap((each, index) => {
    const { frequencyHz, gainDb } = each.filter;
    if (frequencyHz < now.fromHz || frequencyHz > now.toHz) return [];
    const y = eqYOf(frame, now, gainDb);
    const tip = {
      x: xOf(frame, now, frequencyHz),
      y: Math.min(frame.bottom - 1, Math.max(frame.lower + 1, y)),
    };
    // A boost's pennant flies above its point, a cut's hangs below where the axis leaves it the room.
    const up = gainDb >= 0 || tip.y + PENNANT > frame.bottom;
    return [{ each, index, tip, up }];
  });
  // The cloths give way to each other; each stays tied to its point.
  const cloths = placeMarks(
    inSight.map(({ tip: { x, y }, up }) => ({
      x,
      y: up ? y - CLOTH_AWAY : y + CLOTH_AWAY,
      side: up ? 'above' : 'below',
    })),
    APART,
    frame.lower - CLOTH_AWAY - APART / 2,
    frame.bottom + (APART - CLOTH) / 2,
  );
  return (
    <>
      {inSight.map(({ each, index, tip }, i) => (
        <FilterMark key={index} {...place} index={index} each={each} tip={tip} clothY={cloths[i]!.y} />
      ))}
    </>
  );
}

interface Pennant extends Place {
  readonly index: number;
  readonly each: ProjectFilter;
  /** What it points at. */
  readonly tip: { readonly x: number; readonly y: number };
  /** The middle of what bears its letter. */
  readonly clothY: number;
}

function FilterMark({ frame, now, index, each, tip: { x, y }, clothY }: Pennant) {
  const { filter, locked, on } = each;
  const { frequencyHz, gainDb, type } = filter;
  const chosen = selectedFilter.value === index;
  const letter = letterOf(index);
  const away = clothY < y ? -CLOTH / 2 : CLOTH / 2;
  const points = [
    [x, y],
    [x + 8, clothY - away],
    [x + 8, clothY + away],
    [x - 8, clothY + away],
    [x - 8, clothY - away],
  ];
  const ends = [y, clothY - 13, clothY + 13];
  const grip = { top: Math.min(...ends), bottom: Math.max(...ends) };
  const tag = `filter ${index}`;
  const pull = (event: PointerEvent) => {
    selectedFilter.value = index;
    const offset = eqYOf(frame, now, gainDb) - (event.clientY - boxTop(event));
    drag(
      event,
      (toX, toY) =>
        editFilter(
          index,
          {
            frequencyHz: hzAt(frame, now, toX),
            gainDb: Math.round(eqDbAt(frame, now, toY + offset) * 10) / 10,
          },
          tag,
        ),
      endOfGesture,
    );
  };
  const pressed = (event: KeyboardEvent) => {
    if (nudge(event, index, each, tag)) {
      event.preventDefault();
      event.stopPropagation();
    }
  };
  return (
    <g class={`filter ${chosen ? 'chosen' : ''} ${locked ? 'held' : ''} ${on ? '' : 'off'}`}>
      {chosen && type === 'peaking' && <Feet frame={frame} now={now} index={index} each={each} />}
      <g
        class="pennant"
        role="slider"
        tabindex={0}
        aria-label={`Filter ${letter}, ${filterTypeName(type).toLowerCase()}`}
        aria-valuemin={10}
        aria-valuemax={24000}
        aria-valuenow={Math.round(frequencyHz)}
        aria-valuetext={`${filterWords(filter)}${locked ? ', held' : ''}${on ? '' : ', off'}`}
        onPointerDown={pull}
        onFocus={() => {
          selectedFilter.value = index;
        }}
        onKeyDown={pressed}
        onKeyUp={endOfGesture}
      >
        <title>{typeset(`${letter}: ${filterWords(filter)}`)}</title>
        <rect class="grip" x={x - 13} y={grip.top} width={26} height={grip.bottom - grip.top} />
        <polygon points={points.map((point) => point.join(',')).join(' ')} />
        <text x={x} y={clothY + 4} text-anchor="middle">
          {letter}
        </text>
      </g>
    </g>
  );
}

function boxTop(event: PointerEvent): number {
  const svg = (event.currentTarget as SVGElement).ownerSVGElement;
  return svg?.getBoundingClientRect().top ?? 0;
}

/** The points of half the gain, by which a band's width is set. */
function Feet({ frame, now, index, each }: Place & { readonly index: number; readonly each: ProjectFilter }) {
  const { frequencyHz, gainDb, q } = each.filter;
  const octaves = (2 * Math.asinh(1 / (2 * q))) / Math.LN2;
  const y = eqYOf(frame, now, gainDb / 2);
  const ends = [-1, 1] as const;
  const set = (x: number) => {
    const half = Math.max(0.01, Math.abs(Math.log2(hzAt(frame, now, x) / frequencyHz)));
    editFilter(index, { q: 1 / (2 * Math.sinh(half * Math.LN2)) }, `width ${index}`);
  };
  const places = ends.map((side) => xOf(frame, now, frequencyHz * 2 ** ((side * octaves) / 2)));
  return (
    <g class="feet">
      <line x1={places[0]} x2={places[1]} y1={y} y2={y} />
      {places.map((x, i) => (
        <rect
          key={ends[i]}
          x={x - 4}
          y={y - 9}
          width={8}
          height={18}
          rx={3}
          onPointerDown={(event) => drag(event, set, endOfGesture)}
        />
      ))}
    </g>
  );
}

/** Arrow keys and the like on a filter; true where the key was one of them. */
export function nudge(
  event: KeyboardEvent,
  index: number,
  { filter, locked, on }: ProjectFilter,
  tag: string,
): boolean {
  const { frequencyHz, gainDb, q } = filter;
  const octave = event.shiftKey ? COARSE_STEP : OCTAVE_STEP;
  const gain = event.shiftKey ? 1 : 0.1;
  if (event.ctrlKey || event.metaKey || event.altKey) return false;
  switch (event.key) {
    case 'ArrowLeft':
      editFilter(index, { frequencyHz: frequencyHz / octave }, tag);
      return true;
    case 'ArrowRight':
      editFilter(index, { frequencyHz: frequencyHz * octave }, tag);
      return true;
    case 'ArrowUp':
      editFilter(index, { gainDb: gainDb + gain }, tag);
      return true;
    case 'ArrowDown':
      editFilter(index, { gainDb: gainDb - gain }, tag);
      return true;
    case 'PageUp':
      editFilter(index, { q: q * 1.05 }, tag);
      return true;
    case 'PageDown':
      editFilter(index, { q: q / 1.05 }, tag);
      return true;
    case 'h':
      lockFilter(index, !locked);
      return true;
    case 'o':
      switchFilter(index, !on);
      return true;
    case 'Delete':
      removeFilter(index);
      return true;
    default:
      return false;
  }
}
