// Two numbers side by side, which the processor reckons with as with one.

export const NUMBER: usize = 8;
export const PAIR: usize = 16;

export function pairAt(address: usize): v128 {
  return v128.load(address);
}

export function both(x: f64): v128 {
  return f64x2.splat(x);
}

export function add(a: v128, b: v128): v128 {
  return f64x2.add(a, b);
}

export function sub(a: v128, b: v128): v128 {
  return f64x2.sub(a, b);
}

export function mul(a: v128, b: v128): v128 {
  return f64x2.mul(a, b);
}

export function div(a: v128, b: v128): v128 {
  return f64x2.div(a, b);
}

export function sumOf(pair: v128): f64 {
  return f64x2.extract_lane(pair, 0) + f64x2.extract_lane(pair, 1);
}

export function numberAt(array: usize, index: i32): f64 {
  return load<f64>(array + ((<usize>index) << 3));
}

export function setNumber(array: usize, index: i32, x: f64): void {
  store<f64>(array + ((<usize>index) << 3), x);
}

export function indexAt(array: usize, index: i32): i32 {
  return load<i32>(array + ((<usize>index) << 2));
}

export function setIndex(array: usize, index: i32, x: i32): void {
  store<i32>(array + ((<usize>index) << 2), x);
}
