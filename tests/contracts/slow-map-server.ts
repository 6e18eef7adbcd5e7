import { createServer, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';

/** A map server that answers when it is told to: until then an import that asks it is in the middle of its work. */
export type SlowMapServer = {
  readonly url: string;
  /** Questions that have come so far. */
  asked(): number;
  /** Answers every question that waits, and all later ones at once. */
  answer(): void;
  /** Lets questions wait again. */
  hold(): void;
  close(): void;
};

/** One road tunnel of about 390 m. */
const ANSWER = JSON.stringify({
  version: 0.6,
  generator: 'Overpass API of a test',
  osm3s: { timestamp_osm_base: '2026-01-01T00:00:00Z' },
  elements: [
    { type: 'node', id: 1, lat: 46, lon: -20 },
    { type: 'node', id: 2, lat: 46, lon: -19.995 },
    { type: 'way', id: 11, nodes: [1, 2], tags: { highway: 'primary', tunnel: 'yes' } },
  ],
});

export async function startSlowMapServer(): Promise<SlowMapServer> {
  const waiting = new Set<ServerResponse>();
  let asked = 0;
  let isHeld = true;
  const send = (response: ServerResponse) => {
    response.writeHead(200, { 'content-type': 'application/json' }).end(ANSWER);
  };
  const server = createServer((request, response) => {
    request.resume();
    asked += 1;
    if (isHeld) waiting.add(response);
    else send(response);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/api/interpreter`,
    asked: () => asked,
    answer() {
      isHeld = false;
      for (const response of waiting) send(response);
      waiting.clear();
    },
    hold() {
      isHeld = true;
    },
    close() {
      server.closeAllConnections();
      server.close();
    },
  };
}
