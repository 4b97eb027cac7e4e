/** Follows a pointer from where it went down until it is let go; `move` gets its place in pixels of the chart. */
export function drag(event: PointerEvent, move: (x: number, y: number) => void, end: () => void): void {
  if (event.button !== 0) return;
  const target = event.currentTarget as SVGElement;
  const svg = target.ownerSVGElement ?? target;
  const { left, top } = svg.getBoundingClientRect();
  event.preventDefault();
  target.focus();
  target.setPointerCapture(event.pointerId);
  let latest: PointerEvent | undefined;
  let frame = 0;
  const apply = () => {
    frame = 0;
    if (latest) move(latest.clientX - left, latest.clientY - top);
    latest = undefined;
  };
  const moved = (next: PointerEvent) => {
    latest = next;
    frame ||= requestAnimationFrame(apply);
  };
  const done = () => {
    cancelAnimationFrame(frame);
    apply();
    target.removeEventListener('pointermove', moved);
    target.removeEventListener('pointerup', done);
    target.removeEventListener('pointercancel', done);
    end();
  };
  target.addEventListener('pointermove', moved);
  target.addEventListener('pointerup', done);
  target.addEventListener('pointercancel', done);
}
