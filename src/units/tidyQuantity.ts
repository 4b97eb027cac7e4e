const VULGAR_FRACTIONS: Readonly<Record<string, string>> = { '½': '1/2', '¼': '1/4', '¾': '3/4' };

/** One spelling for what keyboards and typesetters write in many: minus, inch and foot marks, degrees, micro, spaces. */
export function tidyQuantity(text: string): string {
  return text
    .replace(/[−–]/g, '-')
    .replace(/[″”“]|''|′′/g, '"')
    .replace(/[′’]/g, "'")
    .replace(/℃|º ?C/g, '°C')
    .replace(/℉|º ?F/g, '°F')
    .replace(/(°|deg) (?=[CFcf]$)/g, '$1')
    .replace(/\u03bc/g, '\u00b5')
    .replace(/[½¼¾]/g, (mark) => ` ${VULGAR_FRACTIONS[mark]}`)
    .replace(/\s+/g, ' ')
    .trim();
}
