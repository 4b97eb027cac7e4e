import { formatFrequency } from '../../src/units/formatFrequency.js';
import { project } from '../state/present.js';
import { endOfGesture } from '../state/session.js';
import { shown } from '../state/shown.js';
import { editBreakpoint, removeBreakpoint } from '../state/targetEdits.js';
import { drag } from './drag.js';
import { dbAt, type Frame, hzAt, type View, xOf, yOf } from './frame.js';

/** The corners of a drawn target, to be pulled. */
export function TargetMarks({ frame, now }: { readonly frame: Frame; readonly now: View }) {
  const { target } = project.value.options;
  const design = shown.value;
  if (!design || target === undefined || target === 'flat') return null;
  const { frequencyHz, targetDb } = design.curves;
  return (
    <>
      {target.breakpoints.map(({ frequency, level }, i) => {
        if (frequency < now.fromHz || frequency > now.toHz) return null;
        const x = xOf(frame, now, frequency);
        // Where the target as a whole is, shelf, tilt and level in it.
        let at = 0;
        frequencyHz.forEach((hz, k) => {
          if (Math.abs(Math.log(hz / frequency)) < Math.abs(Math.log(frequencyHz[at]! / frequency))) at = k;
        });
        const base = targetDb[at]! - level;
        const y = yOf(frame, now, targetDb[at]!);
        const tag = `corner ${i}`;
        return (
          <g
            key={i}
            class="corner"
            role="slider"
            tabindex={0}
            aria-label={`Corner ${i + 1} of the target`}
            aria-valuemin={-60}
            aria-valuemax={60}
            aria-valuenow={level}
            aria-valuetext={`${formatFrequency(frequency)}, ${level.toFixed(1)} dB`}
            onPointerDown={(event) =>
              drag(
                event,
                (toX, toY) =>
                  editBreakpoint(
                    i,
                    {
                      frequency: hzAt(frame, now, toX),
                      level: Math.round((dbAt(frame, now, toY) - base) * 10) / 10,
                    },
                    tag,
                  ),
                endOfGesture,
              )
            }
            onKeyUp={endOfGesture}
            onKeyDown={(event) => {
              const step = event.shiftKey ? 1 : 0.1;
              const ratio = 2 ** ((event.shiftKey ? 8 : 1) / 48);
              const moves: Readonly<Record<string, () => void>> = {
                ArrowUp: () => editBreakpoint(i, { level: level + step }, tag),
                ArrowDown: () => editBreakpoint(i, { level: level - step }, tag),
                ArrowLeft: () => editBreakpoint(i, { frequency: frequency / ratio }, tag),
                ArrowRight: () => editBreakpoint(i, { frequency: frequency * ratio }, tag),
                Delete: () => removeBreakpoint(i),
              };
              const move = moves[event.key];
              if (!move) return;
              event.preventDefault();
              move();
            }}
          >
            <rect class="grip" x={x - 12} y={y - 12} width={24} height={24} />
            <path d={`M${x - 8} ${y - 5}h16l-8 11z`} />
          </g>
        );
      })}
    </>
  );
}
