import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { chooseFormat, FORMATS, type Format } from './choose-format.ts';
import { readBbox } from './read-bbox.ts';
import { readDatetime } from './read-datetime.ts';
import type { ItemsQuery } from './select-items.ts';

/** What a request asks by its address, each once. */
export type Parameters = ReadonlyMap<string, string>;

/** A page for people has no more rows than the last: a browser would be long at it, and the server, too. */
export const LIMIT = { least: 1, most: 10_000, usual: 10, mostRows: 500 } as const;
export const ITEMS_PARAMETERS = ['bbox', 'datetime', 'f', 'limit', 'offset', 'survey'] as const;
export const OTHER_PARAMETERS = ['f'] as const;

/** Reads parameters that all have to be known; refused as `parameter-unknown`, or `parameter-invalid` where one is there twice. */
export function readParameters(search: URLSearchParams, known: readonly string[]): Result<Parameters> {
  const read = new Map<string, string>();
  for (const [name, value] of search) {
    if (!known.includes(name)) {
      return refused(refusal('parameter-unknown', { name, known: known.join(', ') }));
    }
    if (read.has(name)) return invalid(name, 'it is there twice');
    read.set(name, value);
  }
  return done(read);
}

/** The format by `f`, else by Accept; refused as `parameter-invalid` and `format-unavailable`. */
export function readFormat(
  parameters: Parameters,
  accept: string | undefined,
  jsonType: string,
): Result<Format> {
  const asked = parameters.get('f');
  if (asked !== undefined) {
    const format = FORMATS.find((one) => one === asked);
    return format === undefined ? invalid('f', `it must be ${FORMATS.join(' or ')}`) : done(format);
  }
  const format = chooseFormat(accept, jsonType);
  if (format !== undefined) return done(format);
  return refused(refusal('format-unavailable', { asked: accept ?? '', known: `${jsonType} or text/html` }));
}

/** Which features are asked for; `surveyIds` are those that may be. A larger limit than the largest is that. */
export function readItemsQuery(
  parameters: Parameters,
  surveyIds: readonly string[],
  format: Format,
): Result<ItemsQuery> {
  const limit = readWhole(parameters, 'limit', LIMIT.usual, LIMIT.least);
  if (!limit.ok) return limit;
  const offset = readWhole(parameters, 'offset', 0, 0);
  if (!offset.ok) return offset;
  const [box, time, surveyId] = ['bbox', 'datetime', 'survey'].map((name) => parameters.get(name));
  const boxes = box === undefined ? undefined : readBbox(box);
  if (boxes?.ok === false) return boxes;
  const during = time === undefined ? undefined : readDatetime(time);
  if (during?.ok === false) return during;
  if (surveyId !== undefined && !surveyIds.includes(surveyId)) {
    return invalid('survey', `there is no survey ${surveyId}`);
  }
  return done({
    limit: Math.min(limit.value, format === 'html' ? LIMIT.mostRows : LIMIT.most),
    offset: offset.value,
    ...(boxes === undefined ? {} : { boxes: boxes.value }),
    ...(during === undefined ? {} : { during: during.value }),
    ...(surveyId === undefined ? {} : { surveyId }),
  });
}

function readWhole(parameters: Parameters, name: string, usual: number, least: number): Result<number> {
  const text = parameters.get(name);
  if (text === undefined) return done(usual);
  const value = /^\d+$/.test(text) ? Number(text) : Number.NaN;
  if (!(value >= least)) return invalid(name, `it must be a whole number, ${least} or more`);
  // Beyond, sums of whole numbers are not exact; no survey has so many.
  return done(Math.min(value, 1e12));
}

function invalid(name: string, reason: string) {
  return refused(refusal('parameter-invalid', { name, reason }));
}
