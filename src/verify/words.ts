/** What is said of a fault, and what is to be done about it. */
export interface Words {
  readonly message: string;
  readonly fix: string;
}

/** A share, in words. */
export const percent = (share: number): string => `${Math.round(100 * Math.min(1, Math.max(0, share)))} %`;
