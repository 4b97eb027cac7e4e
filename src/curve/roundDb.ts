/** To a thousandth of a dB; never −0. */
export const roundDb = (db: number): number => Math.round(db * 1000) / 1000 + 0;
