const COMPACT_WIDTH = 110;

function compact(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(compact).join(', ')}]`;
  if (value !== null && typeof value === 'object') {
    const members = Object.entries(value).filter(([, member]) => member !== undefined);
    if (members.length === 0) return '{}';
    return `{ ${members.map(([key, member]) => `${JSON.stringify(key)}: ${compact(member)}`).join(', ')} }`;
  }
  return JSON.stringify(value) ?? 'null';
}

function indented(value: unknown, indent: string): string {
  const short = compact(value);
  const isLeaf = value === null || typeof value !== 'object';
  const isNumberList = Array.isArray(value) && value.every((item) => typeof item === 'number');
  if (isLeaf || isNumberList || (indent !== '' && indent.length + short.length <= COMPACT_WIDTH))
    return short;
  const inner = `${indent}  `;
  if (Array.isArray(value)) {
    return `[\n${value.map((item) => inner + indented(item, inner)).join(',\n')}\n${indent}]`;
  }
  const members = Object.entries(value).filter(([, member]) => member !== undefined);
  return `{\n${members
    .map(([key, member]) => `${inner}${JSON.stringify(key)}: ${indented(member, inner)}`)
    .join(',\n')}\n${indent}}`;
}

/**
 * JSON for people and for comparing: keys in the order in which the value holds them, two spaces a level,
 * whatever fits on one line on one line, lists of numbers always so. Ends with a line end.
 */
export function stableJson(value: unknown): string {
  return `${indented(value, '')}\n`;
}
