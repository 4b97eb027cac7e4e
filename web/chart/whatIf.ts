import { signal } from '@preact/signals';

/** The curve as it would be with the speaker elsewhere, and after a refit there, on the grid of the design. */
export interface WhatIf {
  readonly smoothedDb: ArrayLike<number>;
  readonly expectedDb?: ArrayLike<number>;
}

export const whatIf = signal<WhatIf | undefined>(undefined);
