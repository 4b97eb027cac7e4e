export const a: number[] = [1];
export const b: number = a[0]!;
