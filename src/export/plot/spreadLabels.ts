/** A label in a row of labels: its wish and its width, in drawing units. */
export interface LabelWish {
  readonly center: number;
  readonly width: number;
}

export interface LabelPlace {
  readonly center: number;
  /** 0 is the row nearest to what is labelled. */
  readonly row: number;
}

/**
 * Places labels above what they name so that none overlaps another or leaves the span: each stays centred on its
 * wish (pushed inside the span at its ends) and takes the lowest row in which there is room.
 */
export function spreadLabels(
  wishes: readonly LabelWish[],
  left: number,
  right: number,
  gap: number,
): LabelPlace[] {
  const order = wishes.map((_, i) => i).sort((a, b) => wishes[a]!.center - wishes[b]!.center);
  const rowEnds: number[] = [];
  const places: LabelPlace[] = wishes.map(({ center }) => ({ center, row: 0 }));
  for (const i of order) {
    const { center: wish, width } = wishes[i]!;
    const center = Math.max(left + width / 2, Math.min(right - width / 2, wish));
    const free = rowEnds.findIndex((end) => center - width / 2 >= end + gap);
    const row = free === -1 ? rowEnds.length : free;
    rowEnds[row] = center + width / 2;
    places[i] = { center, row };
  }
  return places;
}
