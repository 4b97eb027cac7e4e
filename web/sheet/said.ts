import { cleanText } from '../../src/export/words/cleanText.js';
import { typeset } from '../../src/export/words/typeset.js';
import { sheetWords } from '../work/sheetWords.js';

/** A message as the sheet shows it: safe to show, in the sheet's own names, and set like the rest. */
export function said(message: string): string {
  return typeset(cleanText(sheetWords(message)));
}
