import { cbrt } from '../../elementary/power.js';

// FIPS 180-4, 4.2.2 and 5.3.3: the first 32 bits of the fractional parts of the cube roots of the first 64 primes,
// and of the square roots of the first 8. Double precision holds them with more than 15 bits to spare.
function firstPrimes(count: number): number[] {
  const primes: number[] = [];
  for (let n = 2; primes.length < count; n += 1) {
    if (primes.every((prime) => n % prime !== 0)) primes.push(n);
  }
  return primes;
}
const fraction32 = (value: number) => Math.floor((value - Math.floor(value)) * 2 ** 32) | 0;
const PRIMES = firstPrimes(64);
const K = Int32Array.from(PRIMES, (prime) => fraction32(cbrt(prime)));
const INITIAL = Int32Array.from(PRIMES.slice(0, 8), (prime) => fraction32(Math.sqrt(prime)));

const rotateRight = (x: number, n: number) => (x >>> n) | (x << (32 - n));

/** Message, a one bit, zeros, and the length in bits as 64-bit big-endian (FIPS 180-4, 5.1.1). */
function padded(message: Uint8Array): DataView {
  const length = Math.ceil((message.length + 9) / 64) * 64;
  const bytes = new Uint8Array(length);
  bytes.set(message);
  bytes[message.length] = 0x80;
  const view = new DataView(bytes.buffer);
  view.setUint32(length - 8, Math.floor(message.length / 2 ** 29));
  view.setUint32(length - 4, (message.length * 8) >>> 0);
  return view;
}

function digest(message: Uint8Array): Int32Array {
  const view = padded(message);
  const hash = Int32Array.from(INITIAL);
  const w = new Int32Array(64);
  for (let block = 0; block < view.byteLength; block += 64) {
    for (let t = 0; t < 16; t += 1) w[t] = view.getInt32(block + 4 * t);
    for (let t = 16; t < 64; t += 1) {
      const w15 = w[t - 15]!;
      const w2 = w[t - 2]!;
      const s0 = rotateRight(w15, 7) ^ rotateRight(w15, 18) ^ (w15 >>> 3);
      const s1 = rotateRight(w2, 17) ^ rotateRight(w2, 19) ^ (w2 >>> 10);
      w[t] = (w[t - 16]! + s0 + w[t - 7]! + s1) | 0;
    }
    let a = hash[0]!;
    let b = hash[1]!;
    let c = hash[2]!;
    let d = hash[3]!;
    let e = hash[4]!;
    let f = hash[5]!;
    let g = hash[6]!;
    let h = hash[7]!;
    for (let t = 0; t < 64; t += 1) {
      const S1 = rotateRight(e, 6) ^ rotateRight(e, 11) ^ rotateRight(e, 25);
      const t1 = (h + S1 + ((e & f) ^ (~e & g)) + K[t]! + w[t]!) | 0;
      const S0 = rotateRight(a, 2) ^ rotateRight(a, 13) ^ rotateRight(a, 22);
      const t2 = (S0 + ((a & b) ^ (a & c) ^ (b & c))) | 0;
      h = g;
      g = f;
      f = e;
      e = (d + t1) | 0;
      d = c;
      c = b;
      b = a;
      a = (t1 + t2) | 0;
    }
    hash[0] = hash[0]! + a;
    hash[1] = hash[1]! + b;
    hash[2] = hash[2]! + c;
    hash[3] = hash[3]! + d;
    hash[4] = hash[4]! + e;
    hash[5] = hash[5]! + f;
    hash[6] = hash[6]! + g;
    hash[7] = hash[7]! + h;
  }
  return hash;
}

const BASE64 = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';

function base64(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += 3) {
    const triple = (bytes[i]! << 16) | ((bytes[i + 1] ?? 0) << 8) | (bytes[i + 2] ?? 0);
    for (const shift of [18, 12, 6, 0]) text += BASE64[(triple >>> shift) & 63]!;
  }
  const missing = (3 - (bytes.length % 3)) % 3;
  return text.slice(0, text.length - missing) + '='.repeat(missing);
}

/**
 * SHA-256 of the UTF-8 bytes of `text` in base64, as a content security policy names a script that may run.
 * Written out here because the platform's own is asynchronous.
 *
 * Source: NIST FIPS 180-4, section 6.2.
 */
export function sha256Base64(text: string): string {
  const words = digest(new TextEncoder().encode(text));
  const bytes = new Uint8Array(32);
  const view = new DataView(bytes.buffer);
  words.forEach((word, i) => {
    view.setInt32(4 * i, word);
  });
  return base64(bytes);
}
