/** Sorts texts, such as ids, by their characters' codes: the same order on every machine and in every language. */
export function byText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
