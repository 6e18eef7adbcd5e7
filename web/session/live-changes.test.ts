import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Events } from './import-session.ts';
import { createLiveChanges } from './live-changes.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

function open() {
  const known = { revision: 5, designs: new Map([['t1', 2]]) };
  const onChanged = vi.fn();
  const onGone = vi.fn();
  const opened: { url: string; target: EventTarget; close: ReturnType<typeof vi.fn> }[] = [];
  const live = createLiveChanges({
    api: { changesUrl: (id) => `/changes/${id}` },
    openEvents: (url) => {
      const target = new EventTarget();
      const close = vi.fn();
      opened.push({ url, target, close });
      return { addEventListener: target.addEventListener.bind(target), close } as unknown as Events;
    },
    knownRevision: () => known.revision,
    knownDesign: (id) => known.designs.get(id),
    onChanged,
    onGone,
  });
  const say = (kind: string, data: unknown = {}) =>
    opened.at(-1)?.target.dispatchEvent(new MessageEvent(kind, { data: JSON.stringify(data) }));
  return { live, say, known, opened, onChanged, onGone };
}

describe('what others change', () => {
  it('is told once for several changes in quick succession', () => {
    const { live, say, onChanged } = open();
    live.follow('s');
    say('changed', { revision: 6, scheme: { complexId: 't2', revision: 1 } });
    say('changed', { revision: 7, scheme: { complexId: 't2', revision: 2 } });
    expect(onChanged).not.toHaveBeenCalled();
    vi.advanceTimersByTime(1000);
    expect(onChanged.mock.calls).toEqual([[false]]);
  });

  it('is followed anew after a sign-in', () => {
    const { live, say, opened, onChanged } = open();
    live.again();
    expect(opened).toEqual([]);
    live.follow('s');
    live.again();
    expect(opened.map(({ url, close }) => [url, close.mock.calls.length])).toEqual([
      ['/changes/s', 1],
      ['/changes/s', 0],
    ]);
    say('changed', { revision: 6 });
    vi.advanceTimersByTime(1000);
    expect(onChanged).toHaveBeenCalledOnce();
  });

  it('tells the open tunnel from the others, and a change of the survey concerns it too', () => {
    const { live, say, onChanged } = open();
    live.follow('s');
    say('changed', { revision: 6, scheme: { complexId: 't1', revision: 3 } });
    vi.advanceTimersByTime(1000);
    say('changed', { revision: 7 });
    vi.advanceTimersByTime(1000);
    expect(onChanged.mock.calls).toEqual([[true], [true]]);
  });

  it('is not what the page has sent itself, or knows already', () => {
    const { live, say, known, onChanged } = open();
    live.follow('s');
    say('changed', { revision: 5 });
    say('changed', { revision: 6, scheme: { complexId: 't1', revision: 3 } });
    // Its own save is answered a moment later than it is told of.
    known.designs.set('t1', 3);
    vi.advanceTimersByTime(1000);
    expect(onChanged).not.toHaveBeenCalled();
  });

  it('of a survey that was left, or is gone, is not told', () => {
    const { live, say, opened, onChanged, onGone } = open();
    live.follow('s');
    say('changed', { revision: 9 });
    live.follow('other');
    vi.advanceTimersByTime(1000);
    expect(onChanged).not.toHaveBeenCalled();
    expect(opened.map(({ url }) => url)).toEqual(['/changes/s', '/changes/other']);
    expect(opened[0]?.close).toHaveBeenCalled();
    live.follow('other');
    expect(opened).toHaveLength(2);
    say('gone');
    expect(onGone).toHaveBeenCalledOnce();
    expect(opened[1]?.close).toHaveBeenCalled();
  });
});
