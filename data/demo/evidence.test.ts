import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { buildEvidence } from './evidence.ts';
import { xml } from './measure-plain.ts';

const read = (name: string) => readFileSync(new URL(`./${name}`, import.meta.url), 'utf8');

describe('the invented counts and beacons', () => {
  const { traffic, beacons } = buildEvidence(xml);

  it('are what the generator makes of the city', () => {
    expect(read('aldermouth-traffic.csv')).toBe(traffic);
    expect(read('aldermouth-beacons.csv')).toBe(beacons);
  });

  it('stand every 38 m in two tunnels: 900 m, and the first half of 640 m', () => {
    const count = (prefix: string) => beacons.split('\n').filter((row) => row.startsWith(prefix)).length;
    expect(count('AL-1')).toBe(Math.floor((900 - 19) / 38) + 1);
    expect(count('AL-2')).toBe(Math.floor((320 - 19) / 38) + 1);
  });
});
