import { cookbookCoefficients } from '../../src/filter/cookbookCoefficients.js';
import type { Filter } from '../../src/filter/filter.js';

/**
 * The filters in series behind `from`, as the cookbook has them at the context's own sample rate. IIR nodes hold any
 * Q; the platform's ready-made shelves have a fixed slope.
 *
 * @returns the last node; `from` itself where there are no filters
 */
export function connectBank(
  context: BaseAudioContext,
  from: AudioNode,
  filters: readonly Filter[],
): AudioNode {
  let last = from;
  for (const filter of filters) {
    const { b0, b1, b2, a1, a2 } = cookbookCoefficients(filter, context.sampleRate);
    const node = context.createIIRFilter([b0, b1, b2], [1, a1, a2]);
    last.connect(node);
    last = node;
  }
  return last;
}
