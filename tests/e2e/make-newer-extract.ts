import { readFileSync } from 'node:fs';

/** The way of the demo city that is changed: the greater part of the Wrenlow Tunnel. */
export const CHANGED_WAY = 1_900_003_004;

/**
 * The demo city as a later extract would have it: a bend of the Wrenlow Tunnel 20 m farther west, and its way cut
 * in two at a node before the bend.
 */
export function makeNewerExtract(): string {
  const moved = replace(readDemo(), /(<node id="8000300060"[^>]* lon=")-19\.9858638"/, '$1-19.9861226"');
  const way = new RegExp(`<way id="${CHANGED_WAY}"[^]*?</way>`).exec(moved)?.[0];
  const [before, after] = way?.split('<nd ref="8000300050"/>') ?? [];
  if (before === undefined || after === undefined) throw new Error('the demo city has no such way any more');
  const tags = [...after.matchAll(/\s*<tag [^>]*\/>/g)].map(([tag]) => tag).join('');
  const node = '<nd ref="8000300050"/>';
  const first = `${before}${node}${tags}\n  </way>`;
  const second = `<way id="1900009999" version="1">\n    ${node}${after}`;
  const cut = moved.replace(way as string, `${first}\n  ${second}`);
  return replace(cut, /timestamp="2026-01-01T00:00:00Z"/, 'timestamp="2026-03-01T00:00:00Z"');
}

/** The demo city as it is. */
export function readDemo(): string {
  return readFileSync(new URL('../../data/demo/aldermouth.osm', import.meta.url), 'utf8');
}

function replace(text: string, pattern: RegExp, by: string): string {
  if (!pattern.test(text)) throw new Error(`the demo city has no ${pattern} any more`);
  return text.replace(pattern, by);
}
