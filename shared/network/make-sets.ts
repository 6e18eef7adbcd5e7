/** Sets that are joined step by step; two that hold the two sides of a pair in `apart` never are. */
export function makeSets(size: number, apart: readonly (readonly [number, number])[] = []) {
  const parent = Array.from({ length: size }, (_, i) => i);
  const find = (i: number): number => {
    let root = i;
    while (parent[root] !== root) root = parent[root] as number;
    parent[i] = root;
    return root;
  };
  return {
    find,
    /** False where both were one already; the lower index stays the root. */
    union(a: number, b: number): boolean {
      const [x, y] = [find(a), find(b)];
      if (x === y) return false;
      const isApart = apart.some(([p, q]) => {
        const [rootP, rootQ] = [find(p), find(q)];
        return (rootP === x && rootQ === y) || (rootP === y && rootQ === x);
      });
      if (isApart) return false;
      parent[Math.max(x, y)] = Math.min(x, y);
      return true;
    },
  };
}
