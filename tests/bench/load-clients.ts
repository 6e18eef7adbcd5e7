import type { Scheme } from '../../shared/scheme/scheme.ts';

/** What one kind of request came to. */
export type Tally = {
  readonly name: string;
  readonly count: number;
  readonly p50Ms: number;
  readonly p95Ms: number;
};

export type Load = {
  readonly tallies: readonly Tally[];
  readonly perSecond: number;
  /** Answers that were neither what was asked for nor that somebody was quicker. */
  readonly errors: readonly string[];
  /** Edits that were acknowledged, by tunnel. */
  readonly acknowledged: ReadonlyMap<string, readonly string[]>;
};

/** One request of a client, told by name. */
type Ask = (name: string, work: () => Promise<Response>) => Promise<Response>;

/**
 * Lets so many clients work on one survey for a while: each reads what a page reads and edits one of `tunnels`, of
 * which several have the same, and goes on top of what it missed where another one was quicker.
 */
export async function runClients(
  url: string,
  tunnels: readonly string[],
  { clients, seconds }: { readonly clients: number; readonly seconds: number },
): Promise<Load> {
  const { ask, summarise, errors } = makeTallies();
  const acknowledged = new Map<string, string[]>(tunnels.map((tunnel) => [tunnel, []]));
  const end = performance.now() + seconds * 1000;
  const started = performance.now();
  await Promise.all(
    Array.from({ length: clients }, async (_, client) => {
      const tunnel = tunnels[client % tunnels.length] as string;
      try {
        await work(ask, { url, tunnel, client, end, acknowledged: acknowledged.get(tunnel) ?? [], errors });
      } catch (error) {
        errors.push(String(error));
      }
    }),
  );
  return { ...summarise((performance.now() - started) / 1000), errors, acknowledged };
}

type Client = {
  readonly url: string;
  readonly tunnel: string;
  readonly client: number;
  readonly end: number;
  readonly acknowledged: string[];
  readonly errors: string[];
};

const SURVEY = '/api/surveys/aldermouth';

async function work(ask: Ask, { url, tunnel, client, end, acknowledged, errors }: Client): Promise<void> {
  const path = `${url}${SURVEY}/complexes/${encodeURIComponent(tunnel)}`;
  const expect = (response: Response, ...statuses: number[]) => {
    if (!statuses.includes(response.status)) errors.push(`${response.url} answered ${response.status}`);
  };
  let tag = '';
  for (let round = 0; performance.now() < end; round += 1) {
    const opened = await ask('open a tunnel', () => fetch(path));
    expect(opened, 200);
    let { revision } = ((await opened.json()) as { scheme: Scheme }).scheme;
    for (let edit = 0; edit < 3 && performance.now() < end; edit += 1) {
      const commandId = `load-${client}-${round}-${edit}`;
      const value = 20 + ((client + round + edit) % 40);
      const commands = [{ kind: 'setRule', commandId, rule: 'spacingM', value }];
      for (;;) {
        const answer = await ask('edit', () =>
          fetch(`${path}/commands`, {
            method: 'POST',
            body: JSON.stringify({ baseRevision: revision, commands }),
            headers: { 'content-type': 'application/json' },
          }),
        );
        expect(answer, 200, 409);
        const { scheme } = (await answer.json()) as { scheme?: Scheme };
        if (scheme === undefined) break;
        revision = scheme.revision;
        if (answer.status !== 200) continue;
        acknowledged.push(commandId);
        break;
      }
    }
    const layer = await ask('read a layer', () =>
      fetch(`${url}${SURVEY}/layers/portals`, { headers: { 'if-none-match': tag } }),
    );
    expect(layer, 200, 304);
    tag = layer.headers.get('etag') ?? '';
    await layer.arrayBuffer();
  }
}

/** Takes the times of requests by their names. */
export function makeTallies() {
  const times = new Map<string, number[]>();
  const errors: string[] = [];
  const ask: Ask = async (name, send) => {
    const started = performance.now();
    const response = await send();
    const own = times.get(name) ?? [];
    times.set(name, own);
    own.push(performance.now() - started);
    return response;
  };
  const summarise = (seconds: number) => {
    const tallies = [...times].map(([name, values]): Tally => {
      const sorted = values.sort((a, b) => a - b);
      const at = (share: number) => sorted[Math.floor(share * (sorted.length - 1))] ?? Number.NaN;
      return { name, count: sorted.length, p50Ms: at(0.5), p95Ms: at(0.95) };
    });
    return { tallies, perSecond: tallies.reduce((sum, { count }) => sum + count, 0) / seconds };
  };
  return { ask, summarise, errors };
}
