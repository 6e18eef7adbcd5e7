import { readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { describe, expect, it } from 'vitest';
import { OSM_ORIGIN } from '../../shared/export/origin.ts';
import { toStream } from './to-stream.ts';
import { writeGeopackage } from './write-geopackage.ts';
import { writeText } from './write-text.ts';

describe('the body of an answer', () => {
  it('is made as it is read, and no further when nobody reads it', async () => {
    let made = 0;
    function* pieces() {
      for (;;) {
        made += 1;
        yield 'x'.repeat(10_000);
      }
    }
    const reader = toStream((signal) => writeText(pieces(), signal)).getReader();
    expect(made).toBe(0);
    const first = await reader.read();
    expect(first.value?.length).toBeGreaterThan(60_000);
    await reader.cancel();
    const after = made;
    expect(after).toBeLessThan(30);
    await new Promise((resolve) => setTimeout(resolve, 50));
    expect(made).toBe(after);
  });

  it('fails where writing fails, so that a cut file is not taken for a whole one', async () => {
    // biome-ignore lint/correctness/useYield: it fails before
    async function* broken(): AsyncGenerator<Uint8Array> {
      throw new Error('the disk is full');
    }
    await expect(
      toStream(() => broken())
        .getReader()
        .read(),
    ).rejects.toThrow('the disk is full');
  });
});

describe('a GeoPackage', () => {
  const listFolders = () => readdirSync(tmpdir()).filter((name) => name.startsWith('boremark-gpkg-'));

  it('that is given up while it is written leaves nothing behind', async () => {
    const before = listFolders();
    let made = 0;
    function* endless() {
      for (;;) {
        made += 1;
        yield {
          type: 'Feature' as const,
          id: `t1/n${made}`,
          geometry: { type: 'Point' as const, coordinates: [1, 2] },
          properties: { complex: 't1', osmNode: made },
        };
      }
    }
    const parts = {
      layers: [{ layer: 'portals' as const, features: endless() }],
      origin: OSM_ORIGIN,
      at: new Date(0),
    };
    const reader = toStream((signal) => writeGeopackage(parts, signal)).getReader();
    const asked = reader.read();
    while (made < 100) await new Promise((resolve) => setTimeout(resolve, 5));
    await reader.cancel();
    await asked;
    const after = made;
    await new Promise((resolve) => setTimeout(resolve, 50));
    expect(made).toBe(after);
    expect(listFolders()).toEqual(before);
  });
});
