import { sha256Base64 } from './sha256Base64.js';

/**
 * A content security policy under which the page can reach nothing: only the scripts given here run, told by their
 * hash; no request leaves. Inline style stays allowed because the plotting library writes `style` attributes, and
 * `data:` and `blob:` images because it draws its download that way.
 */
export function contentPolicy(scripts: readonly string[]): string {
  return [
    "default-src 'none'",
    `script-src ${scripts.map((script) => `'sha256-${sha256Base64(script)}'`).join(' ')}`,
    "style-src 'unsafe-inline'",
    'img-src data: blob:',
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
}
