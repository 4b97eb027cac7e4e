import { computed, signal } from '@preact/signals';

export type Theme = 'system' | 'light' | 'dark';

const KEY = 'nullwise-look';
const system = matchMedia('(prefers-color-scheme: dark)');
const systemDark = signal(system.matches);
system.addEventListener('change', () => {
  systemDark.value = system.matches;
});

export const theme = signal<Theme>(stored());

function stored(): Theme {
  try {
    const word = localStorage.getItem(KEY);
    return word === 'light' || word === 'dark' ? word : 'system';
  } catch {
    return 'system';
  }
}

export const dark = computed(() => (theme.value === 'system' ? systemDark.value : theme.value === 'dark'));

theme.subscribe((value) => {
  const { dataset } = document.documentElement;
  if (value === 'system') delete dataset.look;
  else dataset.look = value;
  try {
    if (value === 'system') localStorage.removeItem(KEY);
    else localStorage.setItem(KEY, value);
  } catch {
    // A private window: the choice holds as long as the page.
  }
});
