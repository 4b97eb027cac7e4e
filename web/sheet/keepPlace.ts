/**
 * Takes a row away by its own button, which goes with it. The focus then goes to that of the row that comes to stand
 * there, not back to the top of the page; where none is left, to the first button of the part.
 *
 * @param act takes it away
 */
export async function keepPlace(button: HTMLElement, act: () => void | Promise<void>): Promise<void> {
  const row = button.closest('li, tr');
  const rows = row?.parentElement;
  const part = button.closest('section, details');
  const at = row && rows ? [...rows.children].indexOf(row) : -1;
  await act();
  requestAnimationFrame(() => {
    if (button.isConnected || document.activeElement !== document.body) return;
    const left = rows?.isConnected ? [...rows.children] : [];
    const next = left[Math.min(at, left.length - 1)]?.querySelector<HTMLElement>(
      '[data-removes]:not(:disabled)',
    );
    (next ?? part?.querySelector<HTMLElement>('button:not(:disabled)'))?.focus();
  });
}
