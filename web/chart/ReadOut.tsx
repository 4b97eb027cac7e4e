import { formatSpan } from '../../src/export/words/formatSpan.js';
import { typeset } from '../../src/export/words/typeset.js';
import { formatFrequency } from '../../src/units/formatFrequency.js';
import { cursorHz, readOut, view, zoneAt } from './chartState.js';
import { zoneReason } from './zoneReason.js';

const STEPS = 480;

/** What the curves are at the cursor; the slider moves it without a pointer. */
export function ReadOut() {
  const now = view.value;
  const read = readOut.value;
  const db = (value: number) => typeset(`${value.toFixed(1)} dB`);
  const reason = zoneAt.value === undefined ? undefined : zoneReason(zoneAt.value);
  if (!now) return <p class="read-out">The curves appear here when a measurement has been read.</p>;
  const position = read ? (STEPS * Math.log(read.hz / now.fromHz)) / Math.log(now.toHz / now.fromHz) : 0;
  return (
    <div class="read-out">
      <label>
        <span>Read at</span>
        <input
          type="range"
          min={0}
          max={STEPS}
          value={Math.round(position)}
          aria-valuetext={read ? formatFrequency(read.hz) : 'nowhere yet'}
          onInput={({ currentTarget }) => {
            cursorHz.value = now.fromHz * (now.toHz / now.fromHz) ** (Number(currentTarget.value) / STEPS);
          }}
        />
      </label>
      {read ? (
        <dl aria-live="polite">
          <div>
            <dt>at</dt>
            <dd>{typeset(formatFrequency(read.hz))}</dd>
          </div>
          <div class="of-smoothed">
            <dt>measured</dt>
            <dd>{db(read.smoothedDb)}</dd>
          </div>
          <div class="of-target">
            <dt>should be</dt>
            <dd>{db(read.targetDb)}</dd>
          </div>
          <div class="of-expected">
            <dt>will be</dt>
            <dd>{db(read.expectedDb)}</dd>
          </div>
          {read.againDb !== undefined && (
            <div class="of-again">
              <dt>measured again</dt>
              <dd>{db(read.againDb)}</dd>
            </div>
          )}
          <div class="of-sum">
            <dt>filters</dt>
            <dd>{db(read.eqDb)}</dd>
          </div>
        </dl>
      ) : (
        <p class="soft">
          Numbers mark what was found: squares want moving, circles do not. Hatched spans are left alone
          <span class="screen-only">; point at one to learn why</span>. A, B, C … are the filters
          <span class="screen-only">: pull them</span>.
        </p>
      )}
      {reason && (
        <p class="zone-reason" role="status">
          <b>{typeset(formatSpan(reason.zone))} is left alone.</b> {typeset(reason.words)}
        </p>
      )}
    </div>
  );
}
