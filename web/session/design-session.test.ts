import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import { makeCommandContext } from '../../shared/pipeline/make-command-context.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { applyCommand } from '../../shared/scheme/apply-command.ts';
import type { Command, Scheme } from '../../shared/scheme/scheme.ts';
import { buildShownDesign } from '../worker/shown-design.ts';
import type { Answer } from './api.ts';
import { createDesignSession } from './design-session.ts';
import { createOwnCommands } from './own-commands.ts';
import { toSlide } from './to-slide.ts';
import { context, empty, fork, linkId, network, radius, spacing } from './tunnel.fixture.ts';

/** A server of one tunnel: the rules of the real one, in a few lines, with faults on demand. */
function makeServer() {
  const server = {
    scheme: empty,
    network,
    isDown: false,
    isSignedOut: false,
    isReadOnly: false,
    /** Saves, but the answer is lost. */
    losesAnswer: false,
    requests: 0,
    edit(...commands: Command[]) {
      for (const command of commands) {
        const applied = applyCommand(server.scheme, command, context);
        if (!applied.ok) throw new Error(applied.refusal.code);
        server.scheme = applied.value;
      }
    },
    /** The tunnel under the scheme becomes another one; what was designed is carried over. */
    reshape(next: ComplexNetwork, commandId: string) {
      server.network = next;
      const { rules, pinned, keepOuts } = server.scheme;
      const carry = { kind: 'carry' as const, commandId, rules, pinned, keepOuts };
      const log = [...server.scheme.log, carry];
      server.scheme = { ...server.scheme, revision: log.length, log };
    },
    tunnel: async () => ({
      ok: true as const,
      value: { network: server.network, rules: DEFAULT_RULES, scheme: server.scheme },
    }),
    sendCommands: async (_: string, __: string, base: number, commands: readonly Command[]) => {
      server.requests += 1;
      if (server.isDown) return problem(0, 'unreachable');
      if (server.isSignedOut) return problem(401, 'sign-in-needed');
      const known = new Set(server.scheme.log.map((command) => command.commandId));
      const isRetry = commands.every((command) => known.has(command.commandId));
      if (!isRetry && base !== server.scheme.revision) {
        return problem(409, 'revision-stale', {
          scheme: server.scheme,
          missed: server.scheme.log.slice(base),
        });
      }
      let next: Scheme = server.scheme;
      for (const command of commands) {
        if (command.kind === 'setRule' && command.value === FORBIDDEN) return problem(400, 'rule-invalid');
        const here = makeCommandContext(server.network, DEFAULT_RULES);
        const applied = applyCommand(next, command, here);
        if (!applied.ok) return problem(400, applied.refusal.code);
        next = applied.value;
      }
      server.scheme = next;
      if (server.losesAnswer) return problem(0, 'unreachable');
      return { ok: true as const, value: { scheme: next } };
    },
  };
  return server;
}

/** A value that only the server refuses. */
const FORBIDDEN = 123;

function problem(status: number, code: string, more: object = {}): Answer<{ scheme: Scheme }> {
  return { ok: false, problem: { status, code, detail: `It is ${code}.`, context: { ...more } } };
}

async function open(server = makeServer()) {
  let count = 0;
  const session = createDesignSession({
    api: server,
    openDesigner: (tunnel, rules) => ({
      design: async (scheme) => buildShownDesign(tunnel, rules, scheme),
      close: () => {},
    }),
    makeId: () => {
      count += 1;
      return `own-command-${count}`;
    },
    own: createOwnCommands(() => {
      throw new Error('no storage');
    }),
    mayEdit: () => !server.isReadOnly,
    surveyId: 'survey',
    complexId: network.complex.id,
    onSaved: () => {},
  });
  await settle();
  const read = () => {
    const state = session.get();
    if (state.status !== 'ready') throw new Error(`the session is ${state.status}`);
    return state.open;
  };
  const beaconCount = () => read().shown?.design.beacons.length;
  const setSpacing = async (value: number) => {
    session.commit({ kind: 'setRule', rule: 'spacingM', value });
    await settle();
  };
  return { server, session, read, beaconCount, setSpacing };
}

const settle = () => vi.advanceTimersByTimeAsync(1);

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

describe('a design session', () => {
  it('opens with the design as saved', async () => {
    const { beaconCount, read } = await open();
    expect(beaconCount()).toBe(11);
    expect(read().saving).toBe('saved');
  });

  it('shows an edit at once and saves it', async () => {
    const { server, beaconCount, read, setSpacing } = await open();
    await setSpacing(80);
    expect([beaconCount(), read().saving, server.scheme.rules.spacingM]).toEqual([6, 'saved', 80]);
    expect(read().pending).toEqual([]);
  });

  it('previews without saving, and goes back when the preview is dropped', async () => {
    const { server, session, beaconCount } = await open();
    session.preview({ kind: 'setRule', rule: 'spacingM', value: 80 });
    await settle();
    expect([beaconCount(), server.requests]).toEqual([6, 0]);
    session.cancel();
    await settle();
    expect([beaconCount(), server.requests]).toEqual([11, 0]);
  });

  it('makes one edit of a row of nudges, and none of a dropped one', async () => {
    const { server, session, read } = await open();
    const beaconId = read().shown?.design.beacons.find((beacon) => beacon.at.chainageM > 100)?.id;
    if (beaconId === undefined) throw new Error('no beacon');
    const place = () => read().shown?.design.beacons.find((beacon) => beacon.id === beaconId)?.at.chainageM;
    const start = place() ?? 0;
    for (const stepM of [1, 1, 10]) session.nudge(beaconId, stepM);
    await settle();
    expect([place(), server.requests]).toEqual([start + 12, 0]);
    await vi.advanceTimersByTimeAsync(1000);
    expect(server.scheme.log).toHaveLength(1);
    expect(server.scheme.pinned[0]?.at).toEqual({ linkId, chainageM: start + 12 });

    session.nudge(beaconId, -1000);
    await settle();
    expect(place()).toBe(0);
    session.cancel();
    await vi.advanceTimersByTimeAsync(1000);
    expect(place()).toBe(start + 12);
    expect(server.scheme.log).toHaveLength(1);
  });

  it('keeps a beacon that is nudged on the wall where it is, whatever wall the rules name later', async () => {
    const { server, session, read } = await open();
    const beacon = read().shown?.design.beacons.find((one) => one.at.chainageM > 100);
    if (beacon === undefined) throw new Error('no beacon');
    const nudge = async () => {
      session.nudge(beacon.id, 1);
      await vi.advanceTimersByTimeAsync(1000);
    };
    await nudge();
    expect(server.scheme.pinned).toMatchObject([{ id: beacon.id, wall: 'right' }]);
    session.commit({ kind: 'setRule', rule: 'side', value: 'left' });
    // Put on the other wall and nudged at once: before the design shows it there.
    session.commit(toSlide(read(), beacon.id, beacon.at, 'chainage', 'left'));
    await nudge();
    expect(server.scheme.pinned).toMatchObject([{ id: beacon.id, wall: 'left' }]);
    expect(read().shown?.design.beacons.find(({ id }) => id === beacon.id)?.side).toBe('left');
  });

  it('undoes and redoes to the same content', async () => {
    const { server, session, setSpacing, beaconCount } = await open();
    await setSpacing(80);
    session.undo();
    await settle();
    expect([beaconCount(), server.scheme.rules]).toEqual([11, {}]);
    session.undo();
    await settle();
    expect(server.scheme.log).toHaveLength(2);
    session.redo();
    await settle();
    expect([beaconCount(), server.scheme.rules.spacingM]).toEqual([6, 80]);
  });

  it('tells a refusal of the core and changes nothing', async () => {
    const { server, read, setSpacing } = await open();
    await setSpacing(1);
    expect(read().notice).toEqual({ kind: 'refused', detail: expect.stringContaining('between 5 and 500') });
    expect([server.requests, read().pending]).toEqual([0, []]);
  });
});

describe('saving', () => {
  it('keeps edits while the server is away and sends them by itself when it is back', async () => {
    const { server, read, setSpacing, beaconCount, session } = await open();
    server.isDown = true;
    await setSpacing(80);
    await setSpacing(100);
    // 400 m: the coverage radius of 40 m allows no more than 80 m.
    expect([read().saving, read().pending.length, beaconCount()]).toEqual(['unsaved', 2, 6]);
    expect(session.hasUnsaved()).toBe(true);
    server.isDown = false;
    await vi.advanceTimersByTimeAsync(30_000);
    expect([read().saving, server.scheme.rules.spacingM, server.scheme.log.length]).toEqual([
      'saved',
      100,
      2,
    ]);
    expect(session.hasUnsaved()).toBe(false);
  });

  it('keeps edits while the session has ended and sends them after a sign-in', async () => {
    const { server, read, setSpacing, session } = await open();
    server.isSignedOut = true;
    await setSpacing(80);
    expect([read().saving, read().pending.length, read().notice]).toEqual(['unsaved', 1, undefined]);
    server.isSignedOut = false;
    await session.retry();
    expect([read().saving, server.scheme.rules.spacingM]).toEqual(['saved', 80]);
  });

  it('doubles nothing when the answer to a saved edit is lost', async () => {
    const { server, session, read, setSpacing } = await open();
    server.losesAnswer = true;
    await setSpacing(80);
    expect([read().saving, server.scheme.log.length]).toEqual(['unsaved', 1]);
    server.losesAnswer = false;
    await setSpacing(90);
    await session.retry();
    await settle();
    expect([read().saving, server.scheme.log.length, server.scheme.rules.spacingM]).toEqual(['saved', 2, 90]);
    expect(read().notice).toBeUndefined();
  });

  it('puts an edit on top of what somebody else changed, and says so', async () => {
    const { server, read, setSpacing } = await open();
    const theirs = radius('their-command-1', 60);
    server.edit(theirs);
    await setSpacing(80);
    expect(server.scheme.rules).toEqual({ coverageRadiusM: 60, spacingM: 80 });
    expect([read().notice, read().saving]).toEqual([{ kind: 'merged', missed: [theirs] }, 'saved']);
  });

  it.each([
    ['mine', 80],
    ['theirs', 70],
  ] as const)('asks where the same thing was changed: %s', async (choice, value) => {
    const { server, session, read, setSpacing } = await open();
    const theirs = spacing('their-command-1', 70);
    server.edit(theirs);
    await setSpacing(80);
    expect(read().notice).toMatchObject({ kind: 'conflict', missed: [theirs], mine: [{ value: 80 }] });
    expect([server.scheme.rules.spacingM, read().scheme.rules.spacingM]).toEqual([70, 70]);
    expect(session.hasUnsaved()).toBe(true);
    await session.resolve(choice);
    await settle();
    expect([server.scheme.rules.spacingM, read().notice]).toEqual([value, undefined]);
    expect(session.hasUnsaved()).toBe(false);
  });

  it('puts edits on top of a tunnel that became another one meanwhile', async () => {
    const { server, read, setSpacing } = await open();
    server.reshape(fork, 'carried-over-1');
    await setSpacing(80);
    expect(read().network.links).toHaveLength(3);
    expect(new Set(read().shown?.design.beacons.map((beacon) => beacon.at.linkId)).size).toBe(3);
    expect(server.scheme.rules).toEqual({ spacingM: 80 });
    expect(read().notice).toMatchObject({ kind: 'merged', missed: [{ kind: 'carry' }] });
    expect([read().pending, read().saving]).toEqual([[], 'saved']);
  });

  it('asks about an edit that the bore has no room for any more, and keeps the others', async () => {
    const { server, session, read, setSpacing } = await open();
    const beaconId = read().shown?.design.beacons.find((beacon) => beacon.at.chainageM > 100)?.id;
    if (beaconId === undefined) throw new Error('no beacon');
    server.isDown = true;
    session.commit({ kind: 'slideBeacon', beaconId, to: { linkId, chainageM: 300 }, anchor: 'position' });
    await setSpacing(80);
    server.isDown = false;
    // Its bore now forks after 200 m.
    server.reshape(fork, 'carried-over-1');
    await session.retry();
    await settle();
    expect(server.scheme.rules).toEqual({ spacingM: 80 });
    expect(read().notice).toMatchObject({ kind: 'conflict', mine: [{ kind: 'slideBeacon', beaconId }] });
    expect(session.hasUnsaved()).toBe(true);
    await session.resolve('mine');
    await settle();
    expect(read().notice).toEqual({ kind: 'refused', detail: expect.stringContaining('cannot be repeated') });
    expect(server.scheme.pinned).toEqual([]);
  });

  it('reads the tunnel anew without losing what is not saved yet', async () => {
    const { server, session, read, setSpacing } = await open();
    server.isDown = true;
    await setSpacing(80);
    server.isDown = false;
    server.reshape(fork, 'carried-over-1');
    await session.reload();
    await settle();
    expect(read().network.links).toHaveLength(3);
    expect([server.scheme.rules.spacingM, read().saving]).toEqual([80, 'saved']);
    // Nothing to undo before what was carried over.
    expect(session.findSteps().undo?.commandId).toBe('own-command-1');
    server.reshape(network, 'carried-over-2');
    await session.reload();
    expect(session.findSteps()).toEqual({ undo: undefined, redo: undefined });
  });

  it('has saved everything once it is flushed, also what is still being made', async () => {
    const { server, session, read } = await open();
    const beaconId = read().shown?.design.beacons.find((beacon) => beacon.at.chainageM > 100)?.id;
    if (beaconId === undefined) throw new Error('no beacon');
    session.nudge(beaconId, 5);
    await settle();
    await session.flush();
    expect(server.scheme.pinned).toMatchObject([{ id: beaconId, anchor: 'chainage' }]);
    session.commit({ kind: 'setAnchor', beaconId, anchor: 'position' });
    await session.flush();
    expect(server.scheme.pinned).toMatchObject([{ id: beaconId, anchor: 'position' }]);
    session.undo();
    await session.flush();
    expect(server.scheme.pinned).toMatchObject([{ id: beaconId, anchor: 'chainage' }]);
  });

  it('drops only the edit that the server refuses, and tells it', async () => {
    const { server, session, read, setSpacing } = await open();
    server.isDown = true;
    session.commit({ kind: 'setRule', rule: 'side', value: 'left' });
    await setSpacing(FORBIDDEN);
    session.commit({ kind: 'setRule', rule: 'coverageRadiusM', value: 55 });
    await settle();
    server.isDown = false;
    await session.retry();
    await settle();
    expect(server.scheme.rules).toEqual({ coverageRadiusM: 55, side: 'left' });
    expect(read().notice).toEqual({ kind: 'refused', detail: 'It is rule-invalid.' });
    expect([read().pending, read().saving]).toEqual([[], 'saved']);
    expect(read().scheme).toEqual(server.scheme);
  });
});

describe('for somebody who only reads', () => {
  it('refuses every edit here, and tells it', async () => {
    const server = makeServer();
    server.isReadOnly = true;
    const { session, read, beaconCount } = await open(server);
    const before = beaconCount();
    const beaconId = read().shown?.design.beacons[1]?.id;
    if (beaconId === undefined) throw new Error('no beacon');
    session.preview({ kind: 'setRule', rule: 'spacingM', value: 80 });
    session.nudge(beaconId, 1);
    await vi.advanceTimersByTimeAsync(5_000);
    expect([read().preview, read().notice, beaconCount()]).toEqual([undefined, undefined, before]);
    session.commit({ kind: 'setRule', rule: 'spacingM', value: 80 });
    await settle();
    expect(read().notice).toEqual({ kind: 'refused', detail: expect.stringContaining('Reading only') });
    expect([beaconCount(), read().pending, server.requests]).toEqual([before, [], 0]);
  });
});

describe('a designer that fails', () => {
  it('is told, and the next good design clears it', async () => {
    let isBroken = true;
    const session = createDesignSession({
      api: makeServer(),
      openDesigner: (tunnel, rules) => ({
        design: async (scheme) => {
          if (isBroken) throw new Error('the worker failed');
          return buildShownDesign(tunnel, rules, scheme);
        },
        close: () => {},
      }),
      makeId: () => 'own-command-1',
      own: { has: () => true, add: () => {} },
      mayEdit: () => true,
      surveyId: 'survey',
      complexId: network.complex.id,
      onSaved: () => {},
    });
    await settle();
    expect(session.get()).toMatchObject({ status: 'ready', open: { fault: 'the worker failed' } });
    isBroken = false;
    await session.recompute();
    expect(session.get()).toMatchObject({ open: { fault: undefined, shown: expect.anything() } });
  });
});
