import type { PanelBox } from './panelBox.js';

/** The line around what is drawn in a box. */
export function BoxOutline({ box: { left, right, top, bottom } }: { readonly box: PanelBox }) {
  return <rect x={left} y={top} width={right - left} height={bottom - top} fill="none" stroke="#555" />;
}
