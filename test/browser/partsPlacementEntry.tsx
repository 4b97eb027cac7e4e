import { render } from 'preact';
import { useState } from 'preact/hooks';
import type { Setup } from '../../src/acoustics/setup.js';
import { readSetup } from '../../src/schema/setup.js';
import { type PlacementChange, PlacementPlan } from '../../web/placement/PlacementPlan.js';

export interface Told {
  readonly setup: Setup;
  readonly done: boolean;
  readonly change: PlacementChange;
}

/** Everything that the plan has told, oldest first. */
export const told: Told[] = [];

function Place({ first }: { readonly first: Setup }) {
  const [setup, setSetup] = useState(first);
  const [measuredAt, setMeasuredAt] = useState(first);
  const [highlighted, setHighlighted] = useState<string | undefined>(undefined);
  return (
    <PlacementPlan
      setup={setup}
      measuredAt={measuredAt}
      highlighted={highlighted}
      onHighlight={setHighlighted}
      onChange={(next, done, change) => {
        told.push({ setup: next, done, change });
        setSetup(next);
        if (change === 'corrected') setMeasuredAt(next);
      }}
    />
  );
}

/** The plan with an owner that takes over whatever it tells. */
export function showPlan(setupText: string): void {
  const place = document.createElement('main');
  document.body.append(place);
  render(<Place first={readSetup(setupText, 'setup.json')} />, place);
}
