import type { Filter } from '../../src/filter/filter.js';
import { formatFrequency } from '../../src/units/formatFrequency.js';
import { lowBoost } from './listeningLevels.js';

interface ListenCautionProps {
  readonly filters: readonly Filter[];
  readonly sampleRateHz: number;
}

/** What can hurt here: ears, and drivers where the bass is raised. */
export function ListenCaution({ filters, sampleRateHz }: ListenCautionProps) {
  const boost = lowBoost(filters, sampleRateHz);
  return (
    <div class="listen-caution" role="note">
      <p>
        <strong>Start quietly.</strong> Turn your amplifier down first, then play, then raise it slowly. Long
        listening at a high level harms hearing.
      </p>
      {boost && (
        <p>
          {`The filters raise ${formatFrequency(boost.atHz)} by ${boost.gainDb.toFixed(1)} dB. Down there that costs cone travel: `}
          if you hear distortion or knocking, turn down at once. The maker’s ratings decide.
        </p>
      )}
    </div>
  );
}
