/** A map that holds what was used latest, at most so much; the rest has to be had anew. */
export class LatestMap<K, V> extends Map<K, V> {
  readonly #most: number;

  constructor(most: number) {
    super();
    this.#most = most;
  }

  override get(key: K): V | undefined {
    const value = super.get(key);
    // A map goes through its keys in the order in which they were set.
    if (value !== undefined && super.delete(key)) super.set(key, value);
    return value;
  }

  override set(key: K, value: V): this {
    super.delete(key);
    super.set(key, value);
    const oldest = this.keys().next();
    if (this.size > this.#most && oldest.done !== true) super.delete(oldest.value);
    return this;
  }
}
