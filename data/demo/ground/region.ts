import type { XY } from '../line/xy.ts';

const BAND_M = 50;

type Edge = readonly [a: XY, b: XY];

/** A closed ring (first position not repeated) that says quickly what is inside it. */
export class Region {
  readonly #bands = new Map<number, Edge[]>();

  constructor(ring: readonly XY[]) {
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length]!;
      const top = Math.floor(Math.max(a[1], b[1]) / BAND_M);
      for (let band = Math.floor(Math.min(a[1], b[1]) / BAND_M); band <= top; band++) {
        const edges = this.#bands.get(band);
        if (edges === undefined) this.#bands.set(band, [[a, b]]);
        else edges.push([a, b]);
      }
    });
  }

  /** Whether `p` is inside: a ray to the east meets an odd number of edges. */
  holds(p: XY): boolean {
    let inside = false;
    for (const [a, b] of this.#bands.get(Math.floor(p[1] / BAND_M)) ?? []) {
      if (a[1] > p[1] === b[1] > p[1]) continue;
      if (p[0] < ((b[0] - a[0]) * (p[1] - a[1])) / (b[1] - a[1]) + a[0]) inside = !inside;
    }
    return inside;
  }
}
