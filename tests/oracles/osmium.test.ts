import { execFileSync, spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readExtractFile } from '../../server/extracts/read-extract.ts';
import { ROAD_CLASSES } from '../../shared/osm/read-highway.ts';

/** osmium-tool, another reader of the same files; `.ci/run` installs it, a user's machine may lack it. */
const hasOsmium = spawnSync('osmium', ['--version']).status === 0;
if (!hasOsmium && process.env.CI) throw new Error('CI must have osmium (osmium-tool)');
const title = 'osmium, where it is installed (apt install osmium-tool)';
const root = join(import.meta.dirname, '../..');

/** What osmium finds, as ids of the form `w123`, in the order of their numbers. */
function ask(file: string, filter: readonly string[]): readonly string[] {
  const text = execFileSync('osmium', ['tags-filter', '-R', file, ...filter, '-f', 'opl'], {
    encoding: 'utf8',
    maxBuffer: 64e6,
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  const ids = text.split('\n').map((line) => line.split(' ')[0] ?? '');
  return ids.filter((id) => id !== '').sort(byNumber);
}

function byNumber(a: string, b: string): number {
  return Number(a.slice(1)) - Number(b.slice(1));
}

const roads = new Set<string>(ROAD_CLASSES);

describe.skipIf(!hasOsmium)(title, () => {
  it.each(['data/demo/aldermouth.osm', 'tests/places/liechtenstein/liechtenstein.osm.pbf'])(
    'finds the same tunnels for cars, roads and turn restrictions in %s',
    async (name) => {
      const file = join(root, name);
      const read = await readExtractFile(file, { name });
      if (!read.ok) throw new Error(read.refusal.code);
      const { ways, relations } = read.value;
      const drivable = new Set(ask(file, [`w/highway=${ROAD_CLASSES.join(',')}`]));
      const tunnels = ask(file, ['w/tunnel']).filter((id) => drivable.has(id));
      expect(tunnels.length).toBeGreaterThan(1);
      const ours = ways.filter(({ tags }) => roads.has(tags.highway ?? ''));
      const idsOf = (list: readonly { readonly id: number }[]) =>
        list.map(({ id }) => `w${id}`).sort(byNumber);
      expect(idsOf(ours.filter(({ tags }) => tags.tunnel !== undefined))).toEqual(tunnels);
      expect(idsOf(ours)).toEqual([...drivable].sort(byNumber));
      const rules = relations.filter(({ tags }) => tags.type === 'restriction').map(({ id }) => `r${id}`);
      expect(rules.sort(byNumber)).toEqual(ask(file, ['r/type=restriction']));
    },
  );
});
