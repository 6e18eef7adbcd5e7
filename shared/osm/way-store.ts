const START_BYTES = 1 << 16;

/** Node lists of ways that may turn out to bound a lake or a park: differences as variable-length bytes. */
export type WayStore = {
  /** How many bytes the lists take. */
  readonly byteLength: number;
  add(id: number, nodes: readonly number[]): void;
  /** The node lists of these ways that are known; of doubles the last counts. */
  pick(ids: ReadonlySet<number>): Map<number, number[]>;
};

/** Makes an empty store. Ids must be whole and within ±2^51, so that their differences are exact. */
export function makeWayStore(): WayStore {
  let bytes = new Uint8Array(START_BYTES);
  let used = 0;
  const write = (value: number) => {
    // Zigzag, then seven bits a byte, in plain arithmetic: ids need more than 32 bits.
    let rest = value < 0 ? -2 * value - 1 : 2 * value;
    while (rest >= 128) {
      bytes[used++] = (rest % 128) | 128;
      rest = Math.floor(rest / 128);
    }
    bytes[used++] = rest;
  };
  return {
    get byteLength() {
      return bytes.length;
    },
    add(id, nodes) {
      bytes = withRoom(bytes, used, 8 * (nodes.length + 2));
      write(id);
      write(nodes.length);
      let previous = 0;
      for (const node of nodes) {
        write(node - previous);
        previous = node;
      }
    },
    pick(ids) {
      const found = new Map<number, number[]>();
      const read = makeReader(bytes);
      while (read.at < used) {
        const id = read.next();
        const count = read.next();
        const nodes: number[] | undefined = ids.has(id) ? [] : undefined;
        let node = 0;
        for (let index = 0; index < count; index += 1) {
          node += read.next();
          nodes?.push(node);
        }
        if (nodes !== undefined) found.set(id, nodes);
      }
      return found;
    },
  };
}

function withRoom(bytes: Uint8Array<ArrayBuffer>, used: number, extra: number): Uint8Array<ArrayBuffer> {
  if (used + extra <= bytes.length) return bytes;
  const grown = new Uint8Array(Math.max(Math.ceil(bytes.length * 1.5), used + extra));
  grown.set(bytes.subarray(0, used));
  return grown;
}

function makeReader(bytes: Uint8Array): { at: number; next(): number } {
  return {
    at: 0,
    next() {
      let value = 0;
      let factor = 1;
      for (;;) {
        const byte = bytes[this.at++] as number;
        value += (byte & 127) * factor;
        if (byte < 128) break;
        factor *= 128;
      }
      return value % 2 === 1 ? -(value + 1) / 2 : value / 2;
    },
  };
}
