import { formatSpan } from '../../src/export/words/formatSpan.js';
import { shown } from '../state/shown.js';
import { zoneAt } from './chartState.js';
import { type Frame, type View, xOf } from './frame.js';
import { zoneReason } from './zoneReason.js';

const TAB = 13;

/** Spans that are left alone: hatched, with a tab on top that says why on hover and focus. */
export function ZoneMarks({ frame, now }: { readonly frame: Frame; readonly now: View }) {
  const design = shown.value;
  if (!design) return null;
  const { left, right, top, middle, lower, bottom } = frame;
  const clamp = (x: number) => Math.min(right, Math.max(left, x));
  return (
    <>
      <defs>
        <pattern id="hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect width="7" height="7" class="hatch-ground" />
          <line x1="0" y1="0" x2="0" y2="7" class="hatch-line" />
        </pattern>
      </defs>
      {[design.range.fromHz, design.range.toHz].map((hz, i) => {
        const x = clamp(xOf(frame, now, hz));
        const [from, to] = i === 0 ? [left, x] : [x, right];
        return to - from < 1 ? null : (
          <rect key={hz} class="outside" x={from} width={to - from} y={top} height={bottom - top} />
        );
      })}
      {design.zones.map((zone) => {
        const x0 = clamp(xOf(frame, now, zone.fromHz));
        const x1 = clamp(xOf(frame, now, zone.toHz));
        if (x1 - x0 < 1) return null;
        const reason = zoneReason(zone.fromHz)?.words ?? '';
        const show = () => {
          zoneAt.value = zone.fromHz;
        };
        const hide = () => {
          zoneAt.value = undefined;
        };
        return (
          <g key={zone.fromHz} class={`zone ${zoneAt.value === zone.fromHz ? 'chosen' : ''}`}>
            <rect class="zone-ground" x={x0} width={x1 - x0} y={top} height={middle - top} />
            <rect class="zone-ground" x={x0} width={x1 - x0} y={lower} height={bottom - lower} />
            {/* biome-ignore lint/a11y/noInteractiveElementToNoninteractiveRole: the reason is to be had without a pointer too */}
            <g
              class="zone-tab"
              tabindex={0}
              role="img"
              aria-label={`${formatSpan(zone)} is left alone. ${reason}`}
              onFocus={show}
              onBlur={hide}
              onPointerEnter={show}
              onPointerLeave={hide}
            >
              <rect x={x0} width={x1 - x0} y={top - TAB} height={TAB} />
              {x1 - x0 > 58 && (
                <text x={(x0 + x1) / 2} y={top - 3} text-anchor="middle">
                  left alone
                </text>
              )}
            </g>
          </g>
        );
      })}
    </>
  );
}
