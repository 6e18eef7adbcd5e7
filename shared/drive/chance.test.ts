import { describe, expect, it } from 'vitest';
import oracle from '../../data/oracles/drive.json';
import { chanceOf, joinKeys, keyOfText } from './chance.ts';
import { cutNormalQuantile, normalQuantile } from './normal-quantile.ts';

const COUNT = 64_000;

/** Chi-square of 16 equal bins has 15 degrees of freedom: above 44.3 by chance once in 10,000. */
function chiSquare(chances: readonly number[]): number {
  const bins = Array.from({ length: 16 }, () => 0);
  for (const chance of chances) bins[Math.floor(chance * 16)] = (bins[Math.floor(chance * 16)] ?? 0) + 1;
  const even = chances.length / 16;
  return bins.reduce((sum, count) => sum + (count - even) ** 2 / even, 0);
}

function correlate(a: readonly number[], b: readonly number[]): number {
  const sum = a.reduce((total, one, i) => total + (one - 0.5) * ((b[i] ?? 0) - 0.5), 0);
  return (12 * sum) / a.length;
}

describe('numbers by chance', () => {
  const ofDrives = Array.from({ length: COUNT }, (_, drive) => chanceOf(joinKeys(7, drive), 0));
  const next = Array.from({ length: COUNT }, (_, drive) => chanceOf(joinKeys(7, drive), 1));
  const ofBeacons = Array.from({ length: COUNT }, (_, i) => chanceOf(joinKeys(7, keyOfText(`b${i}`)), 0));
  const otherSeed = Array.from({ length: COUNT }, (_, drive) => chanceOf(joinKeys(8, drive), 0));

  it.each([
    ['by drive', ofDrives],
    ['by number', next],
    ['by name', ofBeacons],
    ['by seed', otherSeed],
  ])('are even %s', (_, chances) => {
    expect(Math.min(...chances)).toBeGreaterThan(0);
    expect(Math.max(...chances)).toBeLessThan(1);
    expect(chiSquare(chances)).toBeLessThan(44.3);
  });

  it.each([
    ['one number of a drive from the next', next],
    ['one drive from the next', [...ofDrives.slice(1), ofDrives[0] ?? 0]],
    ['one seed from the next', otherSeed],
  ])('do not tell %s', (_, others) => {
    expect(Math.abs(correlate(ofDrives, others))).toBeLessThan(4 / Math.sqrt(COUNT));
  });
});

describe('normal deviates', () => {
  it.each(oracle.normalQuantile.values)('$deviate has a share of $share below it', ({ share, deviate }) => {
    expect(Math.abs(normalQuantile(share) - deviate)).toBeLessThan(2e-6);
    expect(Math.abs(normalQuantile(1 - share) + deviate)).toBeLessThan(2e-6);
  });

  it('are cut at three standard deviations', () => {
    expect(cutNormalQuantile(0)).toBeCloseTo(-3, 5);
    expect(cutNormalQuantile(0.5)).toBeCloseTo(0, 9);
    expect(cutNormalQuantile(1)).toBeCloseTo(3, 5);
  });
});
