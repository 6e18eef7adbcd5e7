import { html } from 'hono/html';
import { HTML_TYPE, LICENCE_URL, type Link, type Paths } from './links.ts';
import { WORDS } from './ogc-words.ts';

/** HTML in which every text was escaped. */
export type Html = ReturnType<typeof html>;

export type PageParts = {
  readonly title: string;
  /** The pages above this one, the highest first. */
  readonly above: readonly { readonly title: string; readonly href: string }[];
  /** The same in other formats, among them this page. */
  readonly links: readonly Link[];
  /** Who has to be named besides OpenStreetMap. */
  readonly attribution: string;
  readonly body: Html | Promise<Html>;
};

const COPYRIGHT_URL = 'https://www.openstreetmap.org/copyright';

/** A whole page: what is above it, its content, the same in other formats, and whom the data come from. */
export function layOut(paths: Paths, { title, above, links, attribution, body }: PageParts): Html {
  const others = links.filter(({ rel, type }) => rel === 'alternate' && type !== HTML_TYPE);
  const more = attribution.startsWith(WORDS.attribution)
    ? attribution.slice(WORDS.attribution.length).replace(/^; /, '')
    : attribution;
  return html`<!doctype html>
<html lang="${WORDS.language}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}${above.length === 0 ? '' : ` – ${WORDS.title}`}</title>
<link rel="stylesheet" href="${paths.style}">
<link rel="icon" href="${paths.icon}" type="image/svg+xml">
${links.map(({ href, rel, type }) => html`<link rel="${rel}" type="${type}" href="${href}">`)}
</head>
<body>
<a class="skip" href="#content">${WORDS.skip}</a>
${above.length === 0 ? '' : toPath(above, title)}
<main id="content">
<h1>${title}</h1>
${body}
</main>
<footer>
<nav aria-label="${WORDS.formats}"><ul>${others.map(({ href, type, title: name }) => html`<li><a href="${href}" type="${type}">${name}</a></li>`)}</ul></nav>
<p>${WORDS.footer} <a href="${COPYRIGHT_URL}">${WORDS.contributors}</a>, <a rel="license" href="${LICENCE_URL}">${WORDS.licenceName}</a>.${more === '' ? '' : ` ${more}.`}</p>
</footer>
</body>
</html>`;
}

function toPath(above: PageParts['above'], title: string): Html {
  return html`<header><nav aria-label="${WORDS.path}"><ol>
${above.map((page) => html`<li><a href="${page.href}">${page.title}</a></li>`)}
<li aria-current="page">${title}</li>
</ol></nav></header>`;
}
