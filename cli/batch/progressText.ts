interface Progress {
  /** Jobs with a line, those of earlier runs too. */
  readonly done: number;
  readonly all: number;
  /** Jobs of this run, how many of them failed, and how long they took together. */
  readonly finished: number;
  readonly failed: number;
  readonly seconds: number;
}

/** "12 of 400 done, 1 failed, 3 min left" */
export function progressText({ done, all, finished, failed, seconds }: Progress): string {
  const left = ((all - done) * seconds) / Math.max(1, finished);
  const parts = [
    `${done} of ${all} done`,
    ...(failed > 0 ? [`${failed} failed`] : []),
    ...(done < all ? [`${timeText(left)} left`] : []),
  ];
  return parts.join(', ');
}

function timeText(seconds: number): string {
  if (seconds < 90) return `${Math.ceil(seconds)} s`;
  if (seconds < 5400) return `${Math.ceil(seconds / 60)} min`;
  return `${(seconds / 3600).toFixed(1)} h`;
}
