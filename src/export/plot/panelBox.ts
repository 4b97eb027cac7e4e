/** Where something is drawn, in the units of the drawing. */
export interface PanelBox {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}
