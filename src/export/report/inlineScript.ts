/**
 * JavaScript made fit to stand inside a `<script>` element: line ends as a browser reads them (the policy's hash is
 * taken on that), and nothing in it that ends the element or opens a comment (HTML Standard, 4.12.1.3 "Restrictions
 * for contents of script elements"). `\x3C` means `<` in strings, templates and regular expressions alike.
 */
export function inlineScript(source: string): string {
  return source.replace(/\r\n?/g, '\n').replace(/<(?=!--|\/?script)/gi, '\\x3C');
}
