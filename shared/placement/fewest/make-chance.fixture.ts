/** Chance that is the same on every run: a number from 0 to 1, by Lehmer's generator. */
export function makeChance(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}
