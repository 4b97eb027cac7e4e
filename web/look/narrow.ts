import { signal } from '@preact/signals';

const screen = matchMedia('(max-width: 640px)');

/** A screen as narrow as a phone's, for what styles alone cannot fit to it. */
export const narrow = signal(screen.matches);

screen.addEventListener('change', () => {
  narrow.value = screen.matches;
});
