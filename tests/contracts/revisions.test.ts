import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pino } from 'pino';
import { beforeAll, describe, expect, it } from 'vitest';
import { createApp } from '../../server/app.ts';
import type { OverpassClient } from '../../server/extracts/overpass-client.ts';
import { openInMemory } from '../../server/store/open-embedded.ts';
import type { Store, SurveyRecord } from '../../server/store/store.ts';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { refused } from '../../shared/outcome/result.ts';
import type { Scheme } from '../../shared/scheme/scheme.ts';
import type { Comparison } from '../../shared/wire/comparison.ts';
import type { SurveyView } from '../../shared/wire/survey.ts';

const file = join(import.meta.dirname, '../../data/demo/aldermouth.osm');
const text = readFileSync(file, 'utf8');
/** Two bores of one name, each one way long. */
const TWINS = [1900005002, 1900005004] as const;
/** A single two-way bore. */
const SINGLE = 1900003004;
const BUSY: OverpassClient = { ask: async () => refused(refusal('overpass-busy')) };

type Feature = {
  id: string;
  geometry: { coordinates: [number, number] };
  properties: Record<string, unknown>;
};

function createOver(store: Store, overpass = BUSY) {
  return createApp({
    store,
    overpass,
    log: pino({ level: 'silent' }),
    uploadLimitBytes: 50e6,
    version: '0.0.0',
    now: () => new Date('2026-01-01T00:00:00Z'),
  });
}

/** The demo city, imported once. */
let city: { record: SurveyRecord; extract: Uint8Array };
beforeAll(async () => {
  const store = await openInMemory();
  const { surveys } = createOver(store);
  const id = 'first';
  await surveys.readOwn({ path: file, name: 'city.osm' }, { id, name: 'city', demo: false });
  const record = (await store.findSurvey(id)) as SurveyRecord;
  city = { record, extract: (await store.findExtract(record.extractId)) as Uint8Array };
}, 60_000);

/** An app of its own with the demo city in it. */
async function open(overpass = BUSY) {
  const store = await openInMemory();
  await store.saveSurvey(city.record, city.extract);
  const { app } = createOver(store, overpass);
  const send = (path: string, body: unknown) =>
    app.request(path, {
      method: 'POST',
      body: JSON.stringify(body),
      headers: { 'content-type': 'application/json' },
    });
  const upload = async (path: string, content: string, name = 'city.osm') => {
    const form = new FormData();
    form.set('file', new File([content], name));
    return (await (await app.request(path, { method: 'POST', body: form })).json()) as SurveyView;
  };
  const follow = async (id: string) => {
    const events = await (await app.request(`/api/surveys/${id}/events`)).text();
    return JSON.parse(/^data: (.*)$/m.exec(events.trim().split('\n\n').at(-1) ?? '')?.[1] ?? 'null');
  };
  const path = `/api/surveys/${city.record.id}`;
  const read = async <T>(rest = ''): Promise<T> => (await app.request(`${path}${rest}`)).json() as Promise<T>;
  return {
    app,
    path,
    read,
    send,
    upload: (content: string, name?: string) => upload(`${path}/candidate`, content, name),
    follow,
    layer: async (name: string) => (await read<{ features: Feature[] }>(`/layers/${name}`)).features,
    /** Sends one edit on top of the survey as it stands, or of another revision. */
    async revise(command: Record<string, unknown>, baseRevision?: number) {
      const base = baseRevision ?? (await read<SurveyView>()).revision;
      const answer = await send(`${path}/commands`, { baseRevision: base, command });
      return { status: answer.status, body: (await answer.json()) as SurveyView & { code: string } };
    },
    /** Moves one of a tunnel’s first beacons to 20 m and gives its id. */
    async pin(complexId: string, anchor: string) {
      const beacons = (await read<{ features: Feature[] }>('/layers/beacons')).features;
      const { properties } = beacons
        .filter((one) => one.properties.complex === complexId)
        .sort((a, b) => Number(a.properties.chainageM) - Number(b.properties.chainageM))[1] as Feature;
      const to = { linkId: properties.link, chainageM: 20 };
      const command = {
        kind: 'slideBeacon',
        commandId: 'slide-0001',
        beaconId: properties.beacon,
        to,
        anchor,
      };
      const answer = await send(`${path}/complexes/${complexId}/commands`, {
        baseRevision: 0,
        commands: [command],
      });
      expect(answer.status).toBe(200);
      return String(properties.beacon);
    },
    schemeOf: async (complexId: string) => (await read<{ scheme: Scheme }>(`/complexes/${complexId}`)).scheme,
  };
}

type Opened = Awaited<ReturnType<typeof open>>;

const split = { kind: 'split', commandId: 'split-0001', ways: TWINS };

describe('splitting a tunnel by hand', () => {
  it('makes two of it with what was designed on each, and taking that back gives the old one', async () => {
    const opened = await open();
    const beaconId = await opened.pin('t1900005002', 'chainage');
    const before = await opened.layer('beacons');
    const { status, body } = await opened.revise(split);
    expect([status, body.counts?.complexes]).toEqual([200, 32]);
    expect(body.overrides).toEqual([split]);
    expect((await opened.layer('complexes')).map(({ id }) => id)).toEqual(
      expect.arrayContaining(['t1900005002', 't1900005004']),
    );
    // The same beacons on the same places: only the tunnel that they are counted with is another for one bore.
    const places = (features: Feature[]) =>
      features
        .map(({ geometry, properties: { beacon, locked } }) => [beacon, geometry.coordinates, locked])
        .sort();
    expect(places(await opened.layer('beacons'))).toEqual(places(before));
    // The moved beacon went with its bore; the history stayed with the tunnel's id.
    const [one, other] = [await opened.schemeOf('t1900005002'), await opened.schemeOf('t1900005004')];
    expect([...one.pinned, ...other.pinned].map(({ id }) => id)).toEqual([beaconId]);
    expect(one.log.map(({ kind }) => kind)).toEqual(['slideBeacon', 'carry']);
    expect(other.log.map(({ kind }) => kind)).toEqual(['carry']);

    const back = await opened.revise({ kind: 'revert', commandId: 'revert-001', revertedId: 'split-0001' });
    expect([back.status, back.body.counts?.complexes, back.body.overrides]).toEqual([200, 31, []]);
    expect(await opened.layer('beacons')).toEqual(before);
  });

  it('takes keep-outs along with their bores, says so, and brings them back', async () => {
    const opened = await open();
    const path = `${opened.path}/complexes/t1900005002`;
    const { network } = await opened.read<{ network: ComplexNetwork }>('/complexes/t1900005002');
    const keepOuts = network.links.map(({ id: linkId }, i) => ({
      id: `keep-out-${i}`,
      linkId,
      fromM: 10,
      toM: 14,
      wall: 'left',
      reason: 'sign',
    }));
    const commands = keepOuts.map((keepOut, i) => ({
      kind: 'addKeepOut',
      commandId: `keep-000${i}`,
      keepOut,
    }));
    expect((await opened.send(`${path}/commands`, { baseRevision: 0, commands })).status).toBe(200);
    const { body } = await opened.revise(split);
    expect(body.notes).toMatchObject([
      { code: 'keep-outs-changed', detail: expect.stringContaining('1 keep-out keeps its place') },
    ]);
    const ids = async (complexId: string) => (await opened.schemeOf(complexId)).keepOuts.map(({ id }) => id);
    const [one, other] = [await ids('t1900005002'), await ids('t1900005004')];
    expect([one.length, other.length, [...one, ...other].sort()]).toEqual([
      1,
      1,
      keepOuts.map(({ id }) => id),
    ]);
    await opened.revise({ kind: 'revert', commandId: 'revert-001', revertedId: 'split-0001' });
    expect((await opened.schemeOf('t1900005002')).keepOuts).toEqual(keepOuts);
  });

  it('changes nothing the second time it is sent', async () => {
    const opened = await open();
    const { body: first } = await opened.revise(split, 0);
    const { status, body: again } = await opened.revise(split, 0);
    expect([status, first.revision, again.revision]).toEqual([200, 1, 1]);
  });

  it('that is sent twice at once is done once, for both', async () => {
    const opened = await open();
    const answers = await Promise.all([opened.revise(split, 0), opened.revise(split, 0)]);
    expect(answers.map(({ status, body }) => [status, body.revision])).toEqual([
      [200, 1],
      [200, 1],
    ]);
  });

  it('can be taken back, and that again', async () => {
    const opened = await open();
    await opened.revise(split);
    const undo = { kind: 'revert', commandId: 'revert-001', revertedId: 'split-0001' };
    expect((await opened.revise(undo)).body.counts?.complexes).toBe(31);
    expect(await opened.revise({ ...undo, commandId: 'revert-002' })).toMatchObject({
      status: 409,
      body: { code: 'command-overtaken' },
    });
    const redo = { kind: 'revert', commandId: 'revert-003', revertedId: 'revert-001' };
    const { body } = await opened.revise(redo);
    expect([body.counts?.complexes, body.overrides]).toEqual([32, [split]]);
  });

  it('shows no layer of one network with the designs of another, however the requests fall', async () => {
    const opened = await open();
    await opened.pin('t1900005002', 'chainage');
    const reading = async () => {
      for (let i = 0; i < 20; i += 1) {
        const answer = await opened.app.request(`${opened.path}/layers/beacons`);
        expect(answer.status).toBe(200);
      }
    };
    await Promise.all([reading(), opened.revise(split)]);
    expect((await opened.read<SurveyView>()).counts?.complexes).toBe(32);
  });

  it.each([
    [{ ...split, ways: [1900005002, 1900005002] }, 422, 'bores-connected'],
    [{ ...split, ways: [1900004002, 1900004003] }, 422, 'bores-connected'],
    [{ ...split, ways: [1900005002, SINGLE] }, 409, 'grouping-void'],
    [{ ...split, kind: 'join' }, 409, 'grouping-void'],
    [{ ...split, kind: 'join', ways: [1900005002, 1900105015] }, 422, 'kinds-differ'],
    [{ ...split, ways: [1900005002, 7] }, 404, 'way-unknown'],
    [{ ...split, ways: [1900005002, -7] }, 400, 'request-invalid'],
    [{ ...split, ways: [1900005002] }, 400, 'request-invalid'],
    [{ kind: 'revert', commandId: 'revert-001', revertedId: 'split-0009' }, 404, 'command-unknown'],
    [{ kind: 'adoptExtract', commandId: 'adopt-0001', extractId: 'nowhere' }, 404, 'candidate-unknown'],
  ])('is refused where it makes no sense: %j', async (command, status, code) => {
    const opened = await demo();
    const before = await opened.read<SurveyView>();
    const refusedWith = await opened.revise(command);
    expect([refusedWith.status, refusedWith.body.code]).toEqual([status, code]);
    expect(await opened.read<SurveyView>()).toEqual(before);
  });

  it('on top of another revision than the survey’s is refused', async () => {
    const opened = await demo();
    expect(await opened.revise(split, 7)).toMatchObject({ status: 409, body: { code: 'revision-stale' } });
  });
});

let shared: Promise<Opened> | undefined;
/** One app for what changes nothing. */
function demo(): Promise<Opened> {
  shared ??= open();
  return shared;
}

describe('joining two tunnels by hand', () => {
  const join = { kind: 'join', commandId: 'join-0001', ways: [SINGLE, 1900004002] };

  it('makes one of them, and an earlier word that stands against it is named', async () => {
    const opened = await open();
    expect((await opened.revise(split)).status).toBe(200);
    const against = await opened.revise({ ...join, ways: TWINS });
    expect([against.status, against.body.code]).toEqual([409, 'grouping-contradicted']);
    const rule = { kind: 'setRule', commandId: 'rule-00001', rule: 'spacingM', value: 30 };
    const path = `${opened.path}/complexes/t1900004002/commands`;
    expect((await opened.send(path, { baseRevision: 0, commands: [rule] })).status).toBe(200);
    const { status, body } = await opened.revise(join);
    expect([status, body.counts?.complexes]).toEqual([200, 31]);
    expect(body.notes).toMatchObject([{ code: 'rules-differ', complexId: `t${SINGLE}` }]);
    const ways = (await opened.layer('complexes')).map(({ properties }) => properties.osmWays as number[]);
    expect(ways.filter((ids) => ids.includes(SINGLE))).toEqual([[SINGLE, 1900004002, 1900004003]]);
  });
});

/** The city a year later: the single bore's way is cut in two at its second node, which lies 20 m farther east. */
function makeNewer(): string {
  const way = new RegExp(`  <way id="${SINGLE}"[\\s\\S]*?</way>\\n`).exec(text)?.[0] ?? '';
  const nodes = [...way.matchAll(/<nd ref="(\d+)"\/>/g)].map((match) => match[1] as string);
  const tags = way.slice(way.indexOf('<tag'));
  const middle = nodes[1] as string;
  const part = (id: number, refs: readonly string[]) =>
    `  <way id="${id}">\n${refs.map((ref) => `    <nd ref="${ref}"/>\n`).join('')}    ${tags}`;
  const cut = part(SINGLE, nodes.slice(0, 2)) + part(1900999001, nodes.slice(1));
  const node = new RegExp(`(<node id="${middle}" version="1" lat="[\\d.]+" lon=")(-[\\d.]+)"`);
  const moved = text.replace(node, (_, head, lon) => `${head}${(Number(lon) + 20 / 77_400).toFixed(7)}"`);
  expect(nodes.length).toBeGreaterThan(2);
  expect(moved).not.toBe(text);
  return moved.replace(way, cut);
}

describe('a newer extract', () => {
  it('is compared before anything moves, and adopting it does just what was listed', async () => {
    const opened = await open();
    const complexId = `t${SINGLE}`;
    const beaconId = await opened.pin(complexId, 'position');
    await opened.revise(split);
    const before = await opened.layer('beacons');
    const job = await opened.upload(makeNewer(), 'newer.osm');
    expect(job.forSurvey).toBe(opened.path.split('/').at(-1));
    expect((await opened.read<SurveyView>()).candidateJob).toEqual({ id: job.id, name: 'newer.osm' });
    expect((await opened.read<{ surveys: SurveyView[] }>('/../../surveys')).surveys).toHaveLength(1);
    expect(await opened.follow(job.id)).toMatchObject({ status: 'ready' });
    const survey = await opened.read<SurveyView>();
    expect(survey.candidateJob).toBeUndefined();
    expect(survey.candidate).toMatchObject({ name: 'newer.osm' });

    const comparison = await opened.read<Comparison>('/comparison');
    expect(comparison).toMatchObject({ surveyRevision: survey.revision, after: { name: 'newer.osm' } });
    expect(comparison.complexes).toMatchObject([{ id: complexId, change: 'changed' }]);
    expect(comparison.links).toHaveLength(1);
    expect(comparison.links[0]).toMatchObject({ change: 'moved', osmWays: [SINGLE, 1900999001] });
    expect(comparison.links[0]?.greatestShiftM).toBeGreaterThan(5);
    expect(comparison.links[0]?.greatestShiftM).toBeLessThanOrEqual(20.1);
    const locked = comparison.beacons.filter((beacon) => beacon.locked);
    expect(locked).toMatchObject([{ id: beaconId, kept: 'place', change: 'moved' }]);
    expect(await opened.layer('beacons')).toEqual(before);

    const adopt = { kind: 'adoptExtract', commandId: 'adopt-0001', extractId: comparison.extractId };
    expect((await opened.revise(adopt, comparison.surveyRevision - 1)).body.code).toBe('revision-stale');
    const adopted = await opened.revise(adopt, comparison.surveyRevision);
    expect(adopted.status).toBe(200);
    expect(adopted.body.candidate).toBeUndefined();
    expect(adopted.body.source?.name).toBe('newer.osm');
    // What was said by hand before still holds.
    expect(adopted.body.counts?.complexes).toBe(32);
    const expected = new Map(before.map(({ id, geometry }) => [id, geometry.coordinates]));
    for (const { complexId: tunnel, id, toAt, change } of comparison.beacons) {
      const key = `${tunnel}/${id}`;
      if (change === 'removed') expected.delete(key);
      else expected.set(key, toAt as [number, number]);
    }
    const after = await opened.layer('beacons');
    expect(new Map(after.map(({ id, geometry }) => [id, geometry.coordinates]))).toEqual(
      new Map([...expected].sort(([a], [b]) => (a < b ? -1 : 1))),
    );
    expect((await opened.schemeOf(complexId)).log.map(({ kind }) => kind)).toEqual(['slideBeacon', 'carry']);
  });

  it('that was adopted meanwhile is told to who edits on the older one', async () => {
    const opened = await open();
    const complexId = `t${SINGLE}`;
    await opened.follow((await opened.upload(makeNewer())).id);
    const { extractId } = await opened.read<Comparison>('/comparison');
    await opened.revise({ kind: 'adoptExtract', commandId: 'adopt-0001', extractId });
    const late = await opened.send(`${opened.path}/complexes/${complexId}/commands`, {
      baseRevision: 0,
      commands: [{ kind: 'setRule', commandId: 'side-00001', rule: 'side', value: 'left' }],
    });
    expect(late.status).toBe(409);
    expect(await late.json()).toMatchObject({
      context: { missed: [{ kind: 'carry', commandId: 'adopt-0001' }] },
    });
  });

  it('that was adopted stays adopted, and words by hand go on to the way that is where theirs was', async () => {
    const opened = await open();
    const other = 1900004002;
    await opened.revise({ kind: 'join', commandId: 'join-0001', ways: [SINGLE, other] });
    // The tunnel's way has got another number.
    const renamed = text.replace(`<way id="${SINGLE}"`, '<way id="1900999002"');
    await opened.follow((await opened.upload(renamed)).id);
    const { extractId, notes } = await opened.read<Comparison>('/comparison');
    expect(notes).toEqual([]);
    const adopted = await opened.revise({ kind: 'adoptExtract', commandId: 'adopt-0001', extractId });
    expect(adopted.body.overrides).toEqual([
      { kind: 'join', commandId: 'join-0001', ways: [1900999002, other] },
    ]);
    const back = { kind: 'revert', commandId: 'revert-001', revertedId: 'adopt-0001' };
    expect((await opened.revise(back)).body.code).toBe('adoption-final');
    const apart = await opened.revise({ ...back, commandId: 'revert-002', revertedId: 'join-0001' });
    expect([apart.status, apart.body.counts?.complexes]).toEqual([200, 31]);
  });

  it('for a survey that is removed meanwhile is not read on', async () => {
    const opened = await open();
    const job = await opened.upload(makeNewer());
    expect((await opened.app.request(opened.path, { method: 'DELETE' })).status).toBe(204);
    expect((await opened.app.request(`/api/surveys/${job.id}`)).status).toBe(404);
    expect(await opened.upload(makeNewer())).toMatchObject({ code: 'survey-unknown' });
  });

  it('can be discarded', async () => {
    const opened = await open();
    await opened.follow((await opened.upload(makeNewer())).id);
    const answer = await opened.app.request(`${opened.path}/candidate`, { method: 'DELETE' });
    expect(answer.status).toBe(204);
    expect((await opened.read<SurveyView>()).candidate).toBeUndefined();
    expect(await opened.read('/comparison')).toMatchObject({ code: 'candidate-unknown' });
  });

  it('that cannot be read, or holds no tunnel, is refused and leaves the survey alone', async () => {
    const opened = await open();
    const before = await opened.read<SurveyView>();
    for (const [content, code] of [
      ['', 'input-empty'],
      ['<html></html>', 'input-html'],
      [text.slice(0, 9000), 'input-truncated'],
      ['<osm version="0.6"><node id="1" lat="1" lon="1"/></osm>', 'input-no-tunnels'],
    ] as const) {
      const job = await opened.upload(content);
      expect(await opened.follow(job.id)).toMatchObject({ status: 'refused', refusal: { code } });
    }
    expect(await opened.read<SurveyView>()).toEqual(before);
  });

  it('of the same area is asked for where the survey came from an area, and only there', async () => {
    const opened = await open();
    expect((await opened.send(`${opened.path}/candidate`, { again: true })).status).toBe(400);
    expect((await opened.send('/api/surveys/none/candidate', { again: true })).status).toBe(404);
    const asked: [string, boolean | undefined][] = [];
    const answer = {
      elements: [
        { type: 'node', id: 1, lat: 46, lon: -20 },
        { type: 'node', id: 2, lat: 46.005, lon: -20 },
        { type: 'way', id: 11, nodes: [1, 2], tags: { highway: 'primary', tunnel: 'yes' } },
      ],
    };
    const { app, send, follow } = await open({
      ask: async (query, asking) => {
        asked.push([query, asking?.newer]);
        return { ok: true, value: { bytes: new TextEncoder().encode(JSON.stringify(answer)) } } as never;
      },
    });
    const area = { bbox: [-20.1, 45.9, -19.9, 46.1] };
    const started = (await (await send('/api/surveys', { area })).json()) as SurveyView;
    expect(await follow(started.id)).toMatchObject({ status: 'ready', source: { area } });
    const again = await send(`/api/surveys/${started.id}/candidate`, { again: true });
    expect(again.status).toBe(202);
    const job = (await again.json()) as SurveyView;
    expect(await follow(job.id)).toMatchObject({ status: 'ready' });
    const [first, second] = asked.map(([query]) => query);
    expect(second).toBe(first);
    // An answer that was kept of the first time would be compared with itself.
    expect(asked.map(([, newer]) => newer)).toEqual([false, true]);
    const comparison = await (await app.request(`/api/surveys/${started.id}/comparison`)).json();
    expect(comparison).toMatchObject({ complexes: [], links: [], beacons: [] });
  });
});
