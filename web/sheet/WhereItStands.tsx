import { setup } from '../state/session.js';
import { Step } from './Step.js';

/** Where the speaker stands. */
export function WhereItStands() {
  const where = setup.value;
  return (
    <Step
      id="stands"
      title="Where the speaker stands"
      lead={
        where
          ? `Known surfaces: ${where.surfaces.map(({ name }) => name).join(', ') || 'none'}.`
          : 'Nothing is known of walls and distances.'
      }
    >
      <p class="soft">Drop a set-up file to have distances taken into account.</p>
    </Step>
  );
}
