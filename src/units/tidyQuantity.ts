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
    .replace(/\s+/g, ' ')
    .trim();
}
