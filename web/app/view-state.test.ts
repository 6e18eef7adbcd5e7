import { describe, expect, it } from 'vitest';
import { createViewState } from './view-state.ts';

/** A page with a history of addresses. */
function makePage(search: string) {
  const entries = [search];
  let at = 0;
  let back = () => {};
  const go = (url: string) => url.replace('/', '');
  const page = {
    location: {
      pathname: '/',
      get search() {
        return entries[at] ?? '';
      },
    },
    history: {
      pushState(_: unknown, __: string, url: string) {
        entries.splice(at + 1, entries.length, go(url));
        at += 1;
      },
      replaceState(_: unknown, __: string, url: string) {
        entries[at] = go(url);
      },
    },
    addEventListener(_: string, listener: () => void) {
      back = listener;
    },
  };
  const goBack = () => {
    at -= 1;
    back();
  };
  return { view: createViewState(page as never), entries, goBack };
}

describe('the view and the address', () => {
  it('make one history entry a tunnel, none for moving the map', () => {
    const { view, entries, goBack } = makePage('?survey=a');
    view.moveMap({ zoom: 12, lat: 46, lon: -20 });
    view.openTunnel('t1');
    view.moveMap({ zoom: 15, lat: 46.5, lon: -20 });
    expect(entries).toEqual([
      '?survey=a&map=12.00/46.00000/-20.00000',
      '?survey=a&tunnel=t1&map=15.00/46.50000/-20.00000',
    ]);
    goBack();
    expect(view.get().address).toEqual({ survey: 'a', map: { zoom: 12, lat: 46, lon: -20 } });
  });

  it('leave tunnel, report and place behind when another survey is opened', () => {
    const { view, entries } = makePage('?survey=a&tunnel=t1&map=12/46/-20');
    view.openPanel('report');
    view.openSurvey('b');
    expect(entries.at(-1)).toBe('?survey=b');
  });

  it('forget what was under the pointer when the screen changes', () => {
    const { view } = makePage('?survey=a');
    view.patch({ hoveredId: 't1' });
    view.openTunnel('t1');
    expect(view.get().hoveredId).toBeUndefined();
  });
});
