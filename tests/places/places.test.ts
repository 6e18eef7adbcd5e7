import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { localDelta } from '../../shared/geodesy/segment.ts';
import { describeNetwork, withoutNodes } from './describe-network.ts';
import type { ComplexCase } from './place-case.ts';
import { buildPlace, findGolden, getCase, listPlaces, pathInPlace } from './read-place.ts';
import { toGolden } from './to-golden.ts';
import { toTolerant } from './to-tolerant.ts';

const names = listPlaces();

it('there are at least 12 places', () => {
  expect(names.length).toBeGreaterThanOrEqual(12);
});

describe.each(names)('%s', (name) => {
  it('is drawn where the metres beside its nodes say', async () => {
    const { extract } = await buildPlace(name);
    const metres = listMetres(readFileSync(pathInPlace(name, 'place.osm'), 'utf8'));
    expect([...metres.keys()]).toEqual(extract.nodes.map((node) => node.id));
    for (const { id, lon, lat } of extract.nodes) {
      const { east, north } = localDelta([-20, 46], [lon, lat]);
      const drawn = metres.get(id) as { eastM: number; northM: number };
      // Seven decimals are 11 mm; 800 m north or south the meridians are some centimetres closer or farther apart.
      expect(Math.hypot(east - drawn.eastM, north - drawn.northM), `node ${id}`).toBeLessThan(0.1);
    }
  });

  it('has the links and complexes that were worked out by hand', async () => {
    const { complexes, links } = getCase(name).expect;
    const { network, findings } = await buildPlace(name);
    const found = describeNetwork(network, findings);
    expect(found.complexes.map(({ id }) => id)).toEqual(complexes.map(({ id }) => id));
    complexes.forEach(({ leftOut, ...expected }, i) => {
      const complex = withoutNodes(found.complexes[i] as ComplexCase, leftOut?.nodes ?? []);
      expect(complex).toMatchObject(toTolerant(expected) as object);
    });
    if (links !== undefined) expect(found.links).toMatchObject(toTolerant(links) as object[]);
  });

  it('has exactly the findings that were worked out by hand', async () => {
    const { network, findings } = await buildPlace(name);
    expect(describeNetwork(network, findings).findings).toEqual(getCase(name).expect.findings);
  });

  it('is as accepted, byte for byte', async () => {
    const golden = findGolden(name);
    expect(golden, `no golden: look at the place, then npx tsx tests/places/accept.ts ${name}`).toBeDefined();
    const { network, findings } = await buildPlace(name);
    expect(toGolden(network, findings)).toBe(golden);
  });
});

/** The metres in the comments beside the nodes: `<!-- 200 W, 0 N -->`. */
function listMetres(xml: string) {
  const nodes = xml.matchAll(/<node id="(\d+)"[^>]*><!-- ([\d.]+) ([EW]), ([\d.]+) ([NS]) -->/g);
  return new Map(
    [...nodes].map(([, id, east, side, north, end]) => [
      Number(id),
      { eastM: Number(east) * (side === 'W' ? -1 : 1), northM: Number(north) * (end === 'S' ? -1 : 1) },
    ]),
  );
}
