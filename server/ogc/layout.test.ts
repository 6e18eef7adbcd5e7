import { html } from 'hono/html';
import { describe, expect, it } from 'vitest';
import { layOut } from './layout.ts';
import { makePaths } from './links.ts';
import { WORDS } from './ogc-words.ts';

const paths = makePaths('http://localhost/ogc');

describe('a page', () => {
  it('escapes every text that it is given', async () => {
    const bad = `<img src=x onerror="alert('1')"> & more`;
    const page = String(
      await layOut(paths, {
        title: bad,
        above: [{ title: bad, href: `http://localhost/ogc?"${bad}` }],
        links: [
          {
            href: `http://localhost/ogc?f=json&x="${bad}`,
            rel: 'alternate',
            type: 'application/json',
            title: bad,
          },
        ],
        attribution: `${WORDS.attribution}; ${bad}`,
        body: html`<p>${bad}</p>`,
      }),
    );
    expect(page).not.toContain('<img');
    expect(
      page.match(/&lt;img src=x onerror=&quot;alert\(&#39;1&#39;\)&quot;&gt; &amp; more/g)?.length,
    ).toBeGreaterThan(5);
  });

  it('names others than OpenStreetMap’s contributors once, where there are any', async () => {
    const layOutFor = async (attribution: string) =>
      String(await layOut(paths, { title: 'a', above: [], links: [], attribution, body: html`<p>b</p>` }));
    expect(await layOutFor(`${WORDS.attribution}; Harbour town`)).toContain('</a>. Harbour town.</p>');
    expect(await layOutFor(WORDS.attribution)).toContain('</a>.</p>');
    expect(await layOutFor('')).toContain('</a>.</p>');
  });
});
