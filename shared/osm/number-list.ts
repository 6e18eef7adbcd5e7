/** A list of numbers that grows, and that is emptied by setting `count` to 0. */
export class NumberList {
  count = 0;
  items = new Float64Array(1 << 10);

  add(value: number): void {
    if (this.count === this.items.length) this.grow(this.count + 1);
    this.items[this.count++] = value;
  }

  /** Adds the first `count` of these numbers. */
  addAll(values: Float64Array, count: number): void {
    if (this.count + count > this.items.length) this.grow(this.count + count);
    this.items.set(values.subarray(0, count), this.count);
    this.count += count;
  }

  /** A copy of what is in the list. */
  toArray(): Float64Array {
    return this.items.slice(0, this.count);
  }

  private grow(count: number): void {
    const { items } = this;
    this.items = new Float64Array(2 * count);
    this.items.set(items);
  }
}
