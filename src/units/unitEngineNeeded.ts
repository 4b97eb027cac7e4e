/**
 * A text is beyond the unit tables and the unit engine is not loaded yet. Neither bad input nor a fault: whoever
 * began the work loads the engine and begins it again (`withUnitEngine`).
 */
export class UnitEngineNeeded extends Error {
  override readonly name = 'UnitEngineNeeded';

  /** @param text what is to be read */
  constructor(readonly text: string) {
    super(`the unit engine must be loaded to read "${text}"`);
  }
}
