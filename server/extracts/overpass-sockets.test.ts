import { createServer, type RequestListener, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { gzipSync } from 'node:zlib';
import { afterEach, describe, expect, it } from 'vitest';
import { readRecorded } from '../../tests/contracts/overpass/read-recorded.ts';
import { createOverpassClient, USER_AGENT } from './overpass-client.ts';

/** What only a real connection shows: sockets that are cut, closed ports, packed answers. */

const servers: Server[] = [];
afterEach(() => {
  for (const server of servers.splice(0)) {
    server.closeAllConnections();
    server.close();
  }
});

async function listen(listener: RequestListener): Promise<string> {
  const server = createServer(listener);
  servers.push(server);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}/api/interpreter`;
}

function createClient(urls: readonly string[], maxBytes = 1024 * 1024) {
  return createOverpassClient({
    urls,
    userAgent: USER_AGENT,
    timeoutMs: 5_000,
    maxBytes,
    retries: 0,
    now: () => Date.UTC(2026, 10, 25),
    sleep: async () => {},
  });
}

const { headers, body } = readRecorded('tunnels-monaco-part');

describe('over a real connection', () => {
  it('a packed answer arrives unpacked', async () => {
    let userAgent: string | undefined;
    const url = await listen((request, response) => {
      userAgent = request.headers['user-agent'];
      response.writeHead(200, { ...headers, 'Content-Encoding': 'gzip' }).end(gzipSync(body));
    });
    const answer = await createClient([url]).ask('out;');
    expect(answer.ok && Buffer.from(answer.value.bytes).equals(body)).toBe(true);
    expect(userAgent).toBe('Boremark/0.1 (+tunnel beacon planning)');
  });

  it('a packed answer is measured unpacked, whatever length was told', async () => {
    const packed = gzipSync('{"elements": []}');
    expect(packed.byteLength).toBeGreaterThan(30);
    const url = await listen((_, response) => {
      const told = { 'Content-Encoding': 'gzip', 'Content-Length': packed.byteLength };
      response.writeHead(200, { ...headers, ...told }).end(packed);
    });
    expect((await createClient([url], 16).ask('out;')).ok).toBe(true);
  });

  it('a small packed answer that grows without measure is stopped', async () => {
    const packed = gzipSync(Buffer.alloc(64 * 1024 * 1024, 32));
    expect(packed.byteLength).toBeLessThan(100_000);
    const url = await listen((_, response) => {
      response.writeHead(200, { ...headers, 'Content-Encoding': 'gzip' }).end(packed);
    });
    const answer = await createClient([url]).ask('out;');
    expect(answer).toMatchObject({ ok: false, refusal: { code: 'overpass-too-large' } });
  });

  it('an endless answer is stopped, and the connection closed', async () => {
    let closed = () => {};
    const closing = new Promise<void>((resolve) => {
      closed = resolve;
    });
    const url = await listen((_, response) => {
      response.writeHead(200, headers);
      const timer = setInterval(() => response.write(Buffer.alloc(64 * 1024, 32)), 1);
      response.on('close', () => {
        clearInterval(timer);
        closed();
      });
    });
    const answer = await createClient([url]).ask('out;');
    expect(answer).toMatchObject({ ok: false, refusal: { code: 'overpass-too-large' } });
    await closing;
  });

  it('an answer that is cut half way is damaged, though its length was told', async () => {
    const url = await listen((request, response) => {
      response.writeHead(200, { ...headers, 'Content-Length': body.byteLength });
      response.write(body.subarray(0, 1000), () => setTimeout(() => request.socket.destroy(), 20));
    });
    const answer = await createClient([url]).ask('out;');
    expect(answer).toEqual({
      ok: false,
      refusal: { code: 'overpass-damaged', context: { reason: 'the connection was cut after 1000 bytes' } },
    });
  });

  it('a closed port is named, and the next server answers', async () => {
    const gone = await listen(() => {});
    await new Promise((resolve) => servers.pop()?.close(resolve));
    const refused = await createClient([gone]).ask('out;');
    expect(refused).toMatchObject({ ok: false, refusal: { code: 'overpass-unreachable' } });
    expect(JSON.stringify(refused)).toContain('ECONNREFUSED');
    const url = await listen((_, response) => void response.writeHead(200, headers).end(body));
    expect(await createClient([gone, url]).ask('out;')).toMatchObject({ ok: true, value: { server: url } });
  });

  it('giving up while the answer comes in closes the connection', async () => {
    const control = new AbortController();
    let closed = () => {};
    const closing = new Promise<void>((resolve) => {
      closed = resolve;
    });
    const url = await listen((_, response) => {
      response
        .writeHead(200, headers)
        .write(body.subarray(0, 100), () => setTimeout(() => control.abort(), 20));
      response.on('close', closed);
    });
    const answer = await createClient([url]).ask('out;', { signal: control.signal });
    expect(answer).toEqual({ ok: false, refusal: { code: 'job-cancelled', context: {} } });
    await closing;
  });
});
