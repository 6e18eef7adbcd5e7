import { html } from 'hono/html';
import type { ApiDescription } from './api-description.ts';
import { type Html, layOut } from './layout.ts';
import { type Link, type Paths, withParameters } from './links.ts';
import { PARAMETER_WORDS, WORDS } from './ogc-words.ts';

/** The description of the API for people. */
export function toApiPage(paths: Paths, { paths: described }: ApiDescription, links: readonly Link[]): Html {
  const rows = Object.entries(described).map(([path, { get }]) => {
    const names = get.parameters.map(({ $ref }) => $ref.split('/').at(-1)).join(', ');
    return html`<tr><th scope="row"><code>/ogc${path === '/' ? '' : path}</code></th><td class="text">${get.summary}</td><td class="text">${names}</td></tr>`;
  });
  const body = html`<p>${WORDS.apiText}</p>
<div class="wide" role="region" tabindex="0" aria-label="${WORDS.api}"><table>
<thead><tr><th scope="col">${WORDS.address}</th><th scope="col">${WORDS.does}</th><th scope="col">${WORDS.parameters}</th></tr></thead>
<tbody>${rows}</tbody></table></div>
<h2>${WORDS.parameters}</h2>
<dl>${Object.entries(PARAMETER_WORDS).map(([name, words]) => html`<dt><code>${name}</code></dt><dd>${words}</dd>`)}</dl>`;
  const above = [{ title: WORDS.home, href: withParameters(paths.base, { f: 'html' }) }];
  return layOut(paths, { title: WORDS.api, above, links, attribution: '', body });
}
