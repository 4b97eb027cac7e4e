// ln 2 and π/2 in parts whose sum goes beyond one floating-point number; multiples of the high parts by small whole numbers
// are exact (32 bits each but the last).

export const LN2_HIGH = 0.6931471803691238;
export const LN2_LOW = 1.9082149292705877e-10;

export const HALF_PI_1 = 1.5707963267341256;
export const HALF_PI_2 = 6.077100506303966e-11;
export const HALF_PI_3 = 2.0222662487959506e-21;

/** What π has beyond `Math.PI`. */
export const PI_LOW = 1.2246467991473532e-16;
