import { verificationJson } from '../../src/export/json/verificationJson.js';
import { verificationSvg } from '../../src/export/plot/verificationSvg.js';
import { verificationText } from '../../src/export/text/verificationText.js';
import type { Verification } from '../../src/schema/verification.js';
import { notice } from '../state/told.js';
import { download } from './download.js';

/** What the command line's check leaves with --out. */
const FILES = [
  { name: 'verification.json', words: 'the figures', type: 'application/json', make: verificationJson },
  { name: 'verification.txt', words: 'to read', type: 'text/plain', make: verificationText },
  { name: 'verification.svg', words: 'a drawing', type: 'image/svg+xml', make: verificationSvg },
] as const;

/** A check as files. */
export function CheckFiles({ verification }: { readonly verification: Verification }) {
  const save = ({ name, type, make }: (typeof FILES)[number]) => {
    try {
      download(name, make(verification), type);
    } catch (error) {
      notice.value = `${name} could not be made: ${error instanceof Error ? error.message : String(error)}`;
    }
  };
  return (
    <ul class="handed" aria-label="This check as files">
      {FILES.map((file) => (
        <li key={file.name}>
          <button type="button" onClick={() => save(file)}>
            {file.name}
          </button>
          <span class="soft">{file.words}</span>
        </li>
      ))}
    </ul>
  );
}
