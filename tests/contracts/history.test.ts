import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pino } from 'pino';
import { beforeAll, describe, expect, it } from 'vitest';
import { createApp } from '../../server/app.ts';
import { openInMemory } from '../../server/store/open-embedded.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { refused } from '../../shared/outcome/result.ts';
import type { Scheme } from '../../shared/scheme/scheme.ts';
import { revisionComparisonSchema } from '../../shared/wire/comparison.ts';
import { type HistoryView, historySchema } from '../../shared/wire/history.ts';
import type { SurveyView } from '../../shared/wire/survey.ts';

const demo = join(import.meta.dirname, '../../data/demo');
let time = Date.parse('2026-01-01T00:00:00Z');
const now = () => {
  time += 1000;
  return new Date(time);
};
const { app, surveys } = createApp({
  store: await openInMemory(now),
  overpass: { ask: async () => refused(refusal('overpass-busy')) },
  log: pino({ level: 'silent' }),
  uploadLimitBytes: 50e6,
  version: '0.0.0',
  now,
});

const PATH = '/api/surveys/demo';
const send = (method: string, path: string, body: unknown) =>
  app.request(`${PATH}${path}`, {
    method,
    body: JSON.stringify(body),
    headers: { 'content-type': 'application/json' },
  });
const survey = async () => (await (await app.request(PATH)).json()) as SurveyView;
const history = async (query = ''): Promise<HistoryView> =>
  historySchema.parse(await (await app.request(`${PATH}/revisions${query}`)).json());
const exported = async () =>
  Buffer.from(await (await app.request(`${PATH}/export`)).arrayBuffer()).toString('base64');
const back = async (revision: number, commandId: string, baseRevision?: number) =>
  send('POST', `/revisions/${revision}/restore`, {
    commandId,
    baseRevision: baseRevision ?? (await survey()).revision,
  });

let tunnels: { id: string; osmWays: number[] }[] = [];
const schemeOf = async (id: string) =>
  ((await (await app.request(`${PATH}/complexes/${encodeURIComponent(id)}`)).json()) as { scheme: Scheme })
    .scheme;
async function space(id: string, commandId: string, value: number) {
  const { revision } = await schemeOf(id);
  const command = { kind: 'setRule', commandId, rule: 'spacingM', value };
  const answer = await send('POST', `/complexes/${encodeURIComponent(id)}/commands`, {
    baseRevision: revision,
    commands: [command],
  });
  expect(answer.status).toBe(200);
}

beforeAll(async () => {
  const file = { path: join(demo, 'aldermouth.osm'), name: 'aldermouth.osm' };
  await surveys.readOwn(file, { id: 'demo', name: 'Aldermouth', demo: false });
  const layer = (await (await app.request(`${PATH}/layers/complexes`)).json()) as {
    features: { id: string; properties: { beaconCount: number; osmWays: number[] } }[];
  };
  tunnels = layer.features
    .filter(({ properties }) => properties.beaconCount > 0)
    .map(({ id, properties }) => ({ id, osmWays: properties.osmWays }));
}, 60_000);

describe('the history of a survey', () => {
  it('tells what was done when, to the survey and to its designs, the newest first', async () => {
    const [one = { id: '' }] = tunnels;
    await space(one.id, 'command-1', 25);
    await send('PATCH', '', { rules: { spacingM: 50 } });
    await send('PATCH', '', { name: 'Second look' });
    const counts = readFileSync(join(demo, 'aldermouth-traffic.csv'));
    await app.request(`${PATH}/traffic`, { method: 'PUT', body: counts });
    const { revisions, before } = await history();
    expect(before).toBeUndefined();
    expect(revisions.map(({ revision }) => revision)).toEqual([4, 3, 2, 1, 0]);
    expect(revisions.map(({ changes }) => changes)).toEqual([
      [{ kind: 'evidence', isThere: true }],
      [{ kind: 'renamed', name: 'Second look' }],
      [{ kind: 'rules', rules: [{ rule: 'spacingM', value: 50 }] }],
      [],
      [{ kind: 'imported' }],
    ]);
    expect(revisions[3]?.edits).toEqual([
      { complexId: one.id, entries: [expect.objectContaining({ commandId: 'command-1', value: 25 })] },
    ]);
    const times = revisions.map(({ at }) => at);
    expect(times).toEqual([...times].sort().reverse());
  });

  it('comes by pages', async () => {
    const [, , third = { id: '' }] = tunnels;
    for (let i = 0; i < 60; i += 1) await space(third.id, `page-${i}-edit`, 20 + (i % 30));
    const first = await history();
    expect(first.revisions).toHaveLength(50);
    const second = await history(`?before=${first.before}`);
    expect([...first.revisions, ...second.revisions].map(({ revision }) => revision)).toEqual(
      Array.from({ length: 65 }, (_, i) => 64 - i),
    );
    expect(second.revisions.at(-1)?.changes).toEqual([{ kind: 'imported' }]);
  });
});

describe('what became of a survey since a revision', () => {
  const since = async (revision: number) => {
    const answer = await app.request(`${PATH}/revisions/${revision}/comparison`);
    expect(answer.status).toBe(200);
    return revisionComparisonSchema.parse(await answer.json());
  };
  const beaconsOf = async (id: string) => {
    const layer = (await (await app.request(`${PATH}/layers/beacons`)).json()) as {
      features: { properties: { complex: string; beacon: string; chainageM: number; link: string } }[];
    };
    return layer.features.map(({ properties }) => properties).filter(({ complex }) => complex === id);
  };

  it('is every beacon that came, went or moved, and by how much; nothing where nothing was done', async () => {
    const { revision } = await survey();
    const nothing = await since(revision);
    expect([nothing.complexes, nothing.links, nothing.beacons]).toEqual([[], [], []]);
    const [one = { id: '' }] = tunnels;
    const [first, second] = (await beaconsOf(one.id)).filter(({ chainageM }) => chainageM > 50);
    if (first === undefined || second === undefined) throw new Error('the tunnel has too few beacons');
    const { revision: base } = await schemeOf(one.id);
    const answer = await send('POST', `/complexes/${encodeURIComponent(one.id)}/commands`, {
      baseRevision: base,
      commands: [
        {
          kind: 'slideBeacon',
          commandId: 'slide-by-3-m',
          beaconId: first.beacon,
          to: { linkId: first.link, chainageM: first.chainageM + 3 },
          anchor: 'chainage',
        },
      ],
    });
    expect(answer.status).toBe(200);
    const after = await since(revision);
    expect(after.beacons.every(({ complexId }) => complexId === one.id)).toBe(true);
    const moved = after.beacons.find(({ id }) => id === first.beacon);
    expect(moved).toMatchObject({ change: 'moved', kept: 'hand' });
    expect(moved?.shiftM).toBeCloseTo(3, 0);
    expect(after.beacons.find(({ id }) => id === 'none')).toBeUndefined();
    expect(after.unchanged.beacons).toBeGreaterThan(100);
    // Back, and nothing is another one.
    expect((await back(revision, 'go-back-from-slide')).status).toBe(200);
    expect((await since(revision)).beacons).toEqual([]);
  });

  it('follows the rules of then and of now', async () => {
    const { revision } = await survey();
    await send('PATCH', '', { rules: { spacingM: 77 } });
    const compared = await since(revision);
    expect(compared.beacons.filter(({ change }) => change === 'removed').length).toBeGreaterThan(10);
    expect((await back(revision, 'go-back-from-rules')).status).toBe(200);
    const unknown = await app.request(`${PATH}/revisions/99999/comparison`);
    expect(unknown.status).toBe(404);
  });
});

describe('going back', () => {
  it('makes everything again what it was, byte for byte, as a new revision', async () => {
    const [one = { id: '' }, two = { id: '' }] = tunnels;
    const { revision } = await survey();
    const before = await exported();
    await space(one.id, 'later-1-edit', 60);
    await space(two.id, 'later-2-edit', 30);
    await send('PATCH', '', { rules: { spacingM: 80 }, name: 'Third look' });
    await app.request(`${PATH}/traffic`, { method: 'DELETE' });
    expect(await exported()).not.toBe(before);

    const answer = await back(revision, 'go-back-1');
    expect(answer.status).toBe(200);
    expect(((await answer.json()) as SurveyView).revision).toBe(revision + 5);
    expect(await exported()).toBe(before);
    expect((await survey()).name).toBe('Second look');
    expect((await history()).revisions[0]).toMatchObject({
      revision: revision + 5,
      changes: [{ kind: 'goBack', toRevision: revision }],
    });
    // What was done since is not lost: one can go there again.
    expect((await back(revision + 4, 'go-back-2')).status).toBe(200);
    expect((await survey()).name).toBe('Third look');
    expect((await schemeOf(two.id)).rules).toEqual({ spacingM: 30 });
    expect((await back(revision, 'go-back-3')).status).toBe(200);
    expect(await exported()).toBe(before);
  }, 60_000);

  it('takes joined tunnels apart again, and their designs with them', async () => {
    const before = await exported();
    const base = await survey();
    const [one, two] = tunnels;
    const joined = await send('POST', '/commands', {
      baseRevision: base.revision,
      command: { kind: 'join', commandId: 'join-command-1', ways: [one?.osmWays[0], two?.osmWays[0]] },
    });
    expect(joined.status).toBe(200);
    expect(await exported()).not.toBe(before);
    expect((await back(base.revision, 'go-back-4')).status).toBe(200);
    expect(await exported()).toBe(before);
    expect((await survey()).overrides).toEqual([]);
  }, 60_000);

  it('is done once however often it is asked for, and only from where one thinks the survey is', async () => {
    const { revision } = await survey();
    const first = await back(0, 'go-back-5', revision);
    const again = await back(0, 'go-back-5', revision);
    expect([first.status, again.status]).toEqual([200, 200]);
    expect((await survey()).revision).toBe(revision + 1);
    const stale = await back(1, 'go-back-6', revision);
    expect([stale.status, await stale.json()]).toEqual([
      409,
      expect.objectContaining({ code: 'revision-stale' }),
    ]);
    const unknown = await back(9999, 'go-back-7');
    expect([unknown.status, await unknown.json()]).toEqual([
      404,
      expect.objectContaining({ code: 'revision-unknown' }),
    ]);
    const same = await back((await survey()).revision, 'go-back-8');
    expect([same.status, await same.json()]).toEqual([
      409,
      expect.objectContaining({ code: 'revision-same' }),
    ]);
  }, 60_000);
});
