import { describe, expect, it } from 'vitest';
import { placeLabels } from './place-labels.ts';

const label = (id: string, x: number, y: number) => ({ id, at: [x, y] as const, width: 12, height: 8 });

describe('numbers on a map', () => {
  it('stand to the right of their mark where there is room', () => {
    expect(placeLabels([label('a', 50, 50)], [100, 100], 5).get('a')).toEqual([62.5, 50]);
  });

  it('stay within the drawing', () => {
    expect(placeLabels([label('a', 95, 50)], [100, 100], 5).get('a')).toEqual([82.5, 50]);
  });

  it('never lie on a mark or on each other, the first ones first', () => {
    const labels = Array.from({ length: 30 }, (_, i) =>
      label(String(i), 20 + (i % 6) * 12, 20 + Math.floor(i / 6) * 12),
    );
    const placed = [...placeLabels(labels, [100, 100], 5)];
    expect(placed.length).toBeGreaterThan(3);
    expect(placed.length).toBeLessThan(30);
    expect(placed[0]?.[0]).toBe('0');
    for (const [id, [x, y]] of placed) {
      for (const [other, [x2, y2]] of placed) {
        if (id !== other) expect(Math.abs(x - x2) >= 12 || Math.abs(y - y2) >= 8).toBe(true);
      }
      for (const { at } of labels) {
        expect(Math.abs(x - at[0]) >= 11 || Math.abs(y - at[1]) >= 9).toBe(true);
      }
    }
  });
});
