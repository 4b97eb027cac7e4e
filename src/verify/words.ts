/** What is said of a fault, and what is to be done about it. */
export interface Words {
  readonly message: string;
  readonly fix: string;
}
