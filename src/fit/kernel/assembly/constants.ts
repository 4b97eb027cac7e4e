// As in src/elementary/constants.ts: ln 2 in two parts, of which multiples of the first are exact.

export const LN2_HIGH: f64 = 0.6931471803691238;
export const LN2_LOW: f64 = 1.9082149292705877e-10;
/** A number's bits hold 1023 more than its power of two, and 2⁵² plus a small whole number has that in its lowest bits. */
export const BIAS_AT_2_52: f64 = 4503599627370496.0 + 1023.0;
/** 10/ln 10. */
export const DB_PER_NEPER_OF_POWER: f64 = 4.3429448190325175;
