import type { Feature } from 'geojson';
import { takeTurns } from '../take-turns.ts';
import type { Format } from './choose-format.ts';
import type { CollectionId } from './collections.ts';
import { attributionOf } from './documents.ts';
import { toFeatureId } from './feature-id.ts';
import {
  GEOJSON_TYPE,
  JSON_TYPE,
  type Link,
  licenceLink,
  type Paths,
  selfLinks,
  withParameters,
} from './links.ts';
import { WORDS } from './ogc-words.ts';
import type { Parameters } from './read-parameters.ts';
import type { Item, ItemsPage, ItemsQuery } from './select-items.ts';
import type { ShownSurvey } from './shown-surveys.ts';

/** A feature as it is told: its id among all surveys, and what is known of it by its survey. */
export function toItem({ survey, feature }: Item): Feature & { readonly id: string } {
  const { geometry, properties } = feature;
  return {
    type: 'Feature',
    id: toFeatureId(survey.id, String(feature.id)),
    geometry,
    properties: { ...properties, survey: survey.id, updated: survey.updated },
  };
}

/** One feature by itself, with links. */
export function toSingleItem(item: Item, collection: CollectionId, paths: Paths, format: Format) {
  const feature = toItem(item);
  const href = paths.item(collection, feature.id);
  return {
    ...feature,
    attribution: attributionOf([item.survey]),
    links: [
      ...selfLinks((f) => withParameters(href, { f }), format, GEOJSON_TYPE),
      collectionLink(collection, paths),
      licenceLink(),
    ],
  };
}

/** What a page of features says of itself. */
export function toPageMembers(
  page: ItemsPage,
  query: ItemsQuery,
  asked: {
    readonly collection: CollectionId;
    readonly parameters: Parameters;
    readonly surveys: readonly ShownSurvey[];
    readonly format: Format;
    readonly paths: Paths;
    readonly now: Date;
  },
) {
  const { collection, parameters, paths, format } = asked;
  return {
    attribution: attributionOf(
      asked.surveys.filter(({ id }) => query.surveyId === undefined || query.surveyId === id),
    ),
    timeStamp: asked.now.toISOString(),
    numberMatched: page.matched,
    numberReturned: page.returned,
    links: [
      ...selfLinks((f) => toAddress(f, parameters.get('offset')), format, GEOJSON_TYPE),
      ...turnLinks(page, query, (offset) => toAddress(format, offset), format),
      collectionLink(collection, paths),
      licenceLink(),
    ],
  };

  function toAddress(f: Format, offset: string | number | undefined): string {
    const { f: _, ...others } = Object.fromEntries(parameters);
    return withParameters(paths.items(collection), { ...others, f, offset });
  }
}

/** To the page before and after, where there is one. */
function turnLinks(
  { matched }: ItemsPage,
  { limit, offset }: ItemsQuery,
  toAddress: (offset: number | undefined) => string,
  format: Format,
): readonly Link[] {
  const type = format === 'json' ? GEOJSON_TYPE : 'text/html';
  const links: Link[] = [];
  // Beyond the end the page before is the last one. Where fewer are before than a page holds, it begins with the first.
  const before = Math.max(0, Math.min(offset, matched) - limit);
  if (offset > 0) {
    links.push({
      href: toAddress(before === 0 ? undefined : before),
      rel: 'prev',
      type,
      title: WORDS.previous,
    });
  }
  if (offset + limit < matched) {
    links.push({ href: toAddress(offset + limit), rel: 'next', type, title: WORDS.next });
  }
  return links;
}

function collectionLink(collection: CollectionId, paths: Paths): Link {
  return { href: paths.collection(collection), rel: 'collection', type: JSON_TYPE, title: collection };
}

/** A page of features as GeoJSON text, piece by piece: a page of the longest tunnels is not made in one go. */
export function streamItems(page: ItemsPage, members: object): ReadableStream<Uint8Array> {
  const pieces = writeItems(page, members);
  return new ReadableStream(
    {
      async pull(controller) {
        const { done, value } = await pieces.next();
        if (done === true) controller.close();
        else controller.enqueue(value);
      },
      cancel: async () => void (await pieces.return(undefined)),
    },
    { highWaterMark: 0 },
  );
}

async function* writeItems(page: ItemsPage, members: object): AsyncGenerator<Uint8Array> {
  const encoder = new TextEncoder();
  const turn = takeTurns();
  let text = `${JSON.stringify({ type: 'FeatureCollection', ...members }).slice(0, -1)},"features":[`;
  let isFirst = true;
  for (const item of page.items()) {
    text += `${isFirst ? '' : ','}${JSON.stringify(toItem(item))}`;
    isFirst = false;
    if (text.length < PIECE) continue;
    yield encoder.encode(text);
    text = '';
    await turn();
  }
  yield encoder.encode(`${text}]}`);
}

/** Letters that are sent at once, at least. */
const PIECE = 64_000;
