import { join } from 'node:path';
import { pino } from 'pino';
import { z } from 'zod';
import oracle from '../../../data/oracles/ogc-features.json';
import { type AppDeps, createApp } from '../../../server/app.ts';
import { seedDemo } from '../../../server/seed-demo.ts';
import { openInMemory } from '../../../server/store/open-embedded.ts';
import type { Store } from '../../../server/store/store.ts';
import { refusal } from '../../../shared/outcome/refusal.ts';
import { refused } from '../../../shared/outcome/result.ts';

export const root = join(import.meta.dirname, '../../..');
export const BASE = 'http://localhost/ogc';
export const COLLECTIONS = ['complexes', 'bores', 'portals', 'decisions', 'beacons'] as const;
/** The surveys of the service, by id. */
export const SURVEYS = ['aldermouth', 'liechtenstein'] as const;

export type Link = {
  readonly href: string;
  readonly rel: string;
  readonly type: string;
  readonly title: string;
};
export type Feature = {
  readonly type: 'Feature';
  readonly id: string;
  readonly geometry: { readonly type: string; readonly coordinates: readonly never[] };
  readonly properties: Readonly<Record<string, unknown>>;
};
export type Items = {
  readonly features: readonly Feature[];
  readonly numberMatched: number;
  readonly numberReturned: number;
  readonly timeStamp: string;
  readonly attribution: string;
  readonly links: readonly Link[];
};

/** A server with the demo city and a real country, each changed last at a time of its own. */
export async function openService(other: Partial<AppDeps> & { readonly store?: Store } = {}) {
  let time = new Date('2026-03-01T12:00:00.000Z');
  const now = other.now ?? (() => time);
  const store = other.store ?? (await openInMemory(now));
  const { app, surveys } = createApp({
    store,
    overpass: { ask: async () => refused(refusal('overpass-busy')) },
    log: pino({ level: 'silent' }),
    uploadLimitBytes: 1e6,
    version: '0.0.0',
    now,
    ...other,
  });
  await seedDemo(surveys, root);
  time = new Date('2026-04-01T12:00:00.000Z');
  const path = join(root, 'tests/places/liechtenstein/liechtenstein.osm.pbf');
  const read = await surveys.readOwn(
    { path, name: 'liechtenstein.osm.pbf' },
    { id: 'liechtenstein', name: '<b>Liechtenstein</b> & "more"', demo: false },
  );
  if (!read.ok) throw new Error(read.refusal.code);
  const ask = async (href: string, headers: Record<string, string> = {}, method = 'GET') =>
    app.request(href.startsWith('http') ? href : `${BASE}${href}`, { method, headers });
  const get = async <T>(href: string): Promise<T> => {
    const answer = await ask(href);
    if (answer.status !== 200) throw new Error(`${href}: ${answer.status} ${await answer.text()}`);
    return (await answer.json()) as T;
  };
  return { app, surveys, ask, get };
}
export type Service = Awaited<ReturnType<typeof openService>>;

/** Every page from an address on, by its `next` links. */
export async function walkPages({ get }: Pick<Service, 'get'>, href: string): Promise<readonly Items[]> {
  const pages: Items[] = [];
  for (let next: string | undefined = href; next !== undefined; ) {
    const page: Items = await get<Items>(next);
    pages.push(page);
    next = findLink(page.links, 'next')?.href;
  }
  return pages;
}

/** The first link of a relation. */
export function findLink(links: readonly Link[], rel: string): Link | undefined {
  return links.find((link) => link.rel === rel);
}

/** Holds a document to what the standard asks of it; throws with what it lacks. */
export function checkShape(name: keyof typeof oracle.schemas, document: unknown): void {
  const schema = { $ref: `#/$defs/${name}`, $defs: oracle.schemas };
  z.fromJSONSchema(schema as Parameters<typeof z.fromJSONSchema>[0]).parse(document);
}
