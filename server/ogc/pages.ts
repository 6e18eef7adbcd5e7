import type { Feature } from 'geojson';
import { html } from 'hono/html';
import { COLLECTIONS, type CollectionId } from './collections.ts';
import type { CollectionDocument, toCollections, toConformance, toLanding } from './documents.ts';
import { type Html, layOut } from './layout.ts';
import { HTML_TYPE, type Link, type Paths, withParameters } from './links.ts';
import { COLLECTION_WORDS, describePage, formatNumber, WORDS } from './ogc-words.ts';
import type { ShownSurvey } from './shown-surveys.ts';
import type { toPageMembers, toSingleItem } from './to-items.ts';

const asPage = (href: string) => withParameters(href, { f: 'html' });
const home = (paths: Paths) => ({ title: WORDS.home, href: asPage(paths.base) });
const all = (paths: Paths) => ({ title: WORDS.collections, href: asPage(paths.collections) });
const one = (paths: Paths, id: CollectionId) => ({
  title: COLLECTION_WORDS[id].title,
  href: asPage(paths.collection(id)),
});

/** The landing page for people. */
export function toLandingPage(
  paths: Paths,
  { title, description, attribution, links }: ReturnType<typeof toLanding>,
): Html {
  const body = html`<p>${description}</p>
<ul class="list">
<li><a href="${asPage(paths.collections)}">${WORDS.collections}</a></li>
<li><a href="${asPage(paths.api)}">${WORDS.api}</a></li>
<li><a href="${asPage(paths.conformance)}">${WORDS.conformance}</a></li>
</ul>`;
  return layOut(paths, { title, above: [], links, attribution, body });
}

/** The conformance classes for people. */
export function toConformancePage(
  paths: Paths,
  { conformsTo, links }: ReturnType<typeof toConformance>,
): Html {
  const body = html`<p>${WORDS.conformanceText}</p>
<ul class="list">${conformsTo.map((uri) => html`<li><a href="${uri}">${uri}</a></li>`)}</ul>`;
  return layOut(paths, { title: WORDS.conformance, above: [home(paths)], links, attribution: '', body });
}

/** All collections for people. */
export function toCollectionsPage(
  paths: Paths,
  { collections, attribution, links }: ReturnType<typeof toCollections>,
): Html {
  const body = html`<p>${WORDS.crs}</p>
${collections.map(
  ({ id, title, description }) => html`<h2><a href="${asPage(paths.collection(id))}">${title}</a></h2>
<p>${description}</p>
<p><a href="${asPage(paths.items(id))}">${WORDS.openFeatures}</a></p>`,
)}`;
  return layOut(paths, { title: WORDS.collections, above: [home(paths)], links, attribution, body });
}

/** One collection for people, with the surveys that are in it. */
export function toCollectionPage(
  paths: Paths,
  document: CollectionDocument,
  surveys: readonly ShownSurvey[],
): Html {
  const { id, title, description, attribution, extent, links } = document;
  const [from, to] = extent.temporal.interval[0] ?? [null, null];
  const body = html`<p>${description}</p>
<dl>
<dt>${WORDS.extent}</dt><dd>${extent.spatial.bbox.map((box) => box.map(formatNumber).join(', '))}. ${WORDS.crs}</dd>
<dt>${WORDS.time}</dt><dd>${from === null || to === null ? WORDS.noTime : `${from} – ${to}`}</dd>
</dl>
<ul class="list">
<li><a href="${asPage(paths.items(id))}">${WORDS.openFeatures}</a></li>
<li><a href="${paths.schema(id)}">${WORDS.schema}</a></li>
</ul>
<h2>${WORDS.surveys}</h2>
<ul class="list">${surveys.map(
    (survey) =>
      html`<li><a href="${withParameters(paths.items(id), { survey: survey.id, f: 'html' })}">${survey.name}</a> (${survey.id}): ${formatNumber(COLLECTIONS[id].countIn(survey.counts))}</li>`,
  )}</ul>`;
  return layOut(paths, { title, above: [home(paths), all(paths)], links, attribution, body });
}

/** A page of features as a table; `offset` are before it. */
export function toItemsPage(
  paths: Paths,
  collection: CollectionId,
  { links, attribution, numberMatched, numberReturned }: ReturnType<typeof toPageMembers>,
  features: readonly Feature[],
  offset: number,
): Html {
  const { columns } = COLLECTIONS[collection];
  const title = `${COLLECTION_WORDS[collection].title}: ${WORDS.items}`;
  const numeric = new Set(
    columns.filter((name) => features.some((item) => typeof item.properties?.[name] === 'number')),
  );
  const cellOf = (name: string) => (numeric.has(name) ? 'number' : '');
  const rows = features.map(
    ({
      id,
      properties,
    }) => html`<tr><th scope="row"><a href="${asPage(paths.item(collection, String(id)))}">${id}</a></th>
${columns.map((name) => html`<td class="${cellOf(name)}">${toText(properties?.[name])}</td>`)}</tr>`,
  );
  const table = html`<div class="wide" role="region" tabindex="0" aria-label="${title}"><table>
<thead><tr><th scope="col">${WORDS.id}</th>${columns.map((name) => html`<th scope="col" class="${cellOf(name)}">${name}</th>`)}</tr></thead>
<tbody>${rows}</tbody></table></div>`;
  const body = html`<p>${describePage(offset, numberReturned, numberMatched)}</p>
${features.length === 0 ? html`<p>${WORDS.none}</p>` : table}
${toTurns(links)}`;
  const above = [home(paths), all(paths), one(paths, collection)];
  return layOut(paths, { title, above, links, attribution, body });
}

function toTurns(links: readonly Link[]): Html {
  const turns = links.filter(({ rel, type }) => type === HTML_TYPE && (rel === 'prev' || rel === 'next'));
  return html`<nav aria-label="${WORDS.pages}"><ul>${turns.map(({ href, rel, title }) => html`<li><a rel="${rel}" href="${href}">${title}</a></li>`)}</ul></nav>`;
}

/** One feature with all that is known of it. */
export function toItemPage(
  paths: Paths,
  collection: CollectionId,
  { id, properties, geometry, links, attribution }: ReturnType<typeof toSingleItem>,
): Html {
  const body = html`<dl>
${Object.entries(properties ?? {}).map(([name, value]) => html`<dt>${name}</dt><dd>${toText(value)}</dd>`)}
<dt>${WORDS.geometry}</dt><dd>${geometry.type}${geometry.type === 'Point' ? ` ${geometry.coordinates.join(', ')}` : ''}</dd>
</dl>`;
  const above = [
    home(paths),
    all(paths),
    one(paths, collection),
    { title: WORDS.items, href: asPage(paths.items(collection)) },
  ];
  return layOut(paths, { title: id, above, links, attribution, body });
}

/** A value of a property for people; ids of the map's objects have no separators. */
function toText(value: unknown): string {
  if (value === undefined || value === null) return '';
  if (typeof value === 'boolean') return value ? WORDS.yes : WORDS.no;
  if (typeof value === 'number') return Number.isInteger(value) ? String(value) : formatNumber(value);
  if (Array.isArray(value)) {
    return value.map(toText).join(value.some((one) => typeof one === 'object') ? '; ' : ', ');
  }
  if (typeof value === 'object') {
    return Object.entries(value)
      .map(([name, inner]) => `${name}: ${toText(inner)}`)
      .join(', ');
  }
  return String(value);
}
