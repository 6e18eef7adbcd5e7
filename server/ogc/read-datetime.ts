import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';

/** Milliseconds of Unix time, both ends in it; infinite where an end is open. */
export type Interval = { readonly fromMs: number; readonly toMs: number };

const DAY_MS = 24 * 3600_000;
const DAY = /^(\d{4}-\d\d-\d\d)$/;
/** RFC 3339, 5.6: a time without its offset is none. A plus sign that was not encoded has become a space. */
const TIME =
  /^(\d{4}-\d\d-\d\d)[Tt](([01]\d|2[0-3]):[0-5]\d:[0-5]\d)(\.\d+)?([Zz]|[+\- ]([01]\d|2[0-3]):[0-5]\d)$/;

/**
 * Reads `datetime`: a time (RFC 3339) or a day, which is meant from its first to its last moment in UTC; or two with `/`
 * between them, of which one may be left open by `..` or nothing. Refused as `parameter-invalid`.
 */
export function readDatetime(text: string): Result<Interval> {
  const [start = '', end, ...more] = text.trim().split('/');
  if (more.length > 0) return invalid('one or two times are needed');
  if (end === undefined) {
    const at = readMoment(start);
    return at === undefined ? notATime(start) : done(at);
  }
  if (isOpen(start) && isOpen(end)) return invalid('one end has to be a time');
  const [from, to] = [readEnd(start), readEnd(end)];
  if (from === undefined) return notATime(start);
  if (to === undefined) return notATime(end);
  if (from.fromMs > to.toMs) return invalid('the earlier time comes first');
  return done({ fromMs: from.fromMs, toMs: to.toMs });
}

function isOpen(text: string): boolean {
  return text === '' || text === '..';
}

function readEnd(text: string): Interval | undefined {
  if (isOpen(text)) return { fromMs: Number.NEGATIVE_INFINITY, toMs: Number.POSITIVE_INFINITY };
  return readMoment(text);
}

function readMoment(text: string): Interval | undefined {
  const day = DAY.exec(text)?.[1];
  if (day !== undefined) {
    const fromMs = readDay(day);
    return fromMs === undefined ? undefined : { fromMs, toMs: fromMs + DAY_MS - 1 };
  }
  const [, date, time, , fraction = '', offset = ''] = TIME.exec(text) ?? [];
  if (date === undefined || readDay(date) === undefined) return undefined;
  const ms = Date.parse(`${date}T${time}${fraction}${offset.replace(' ', '+').toUpperCase()}`);
  return Number.isNaN(ms) ? undefined : { fromMs: ms, toMs: ms };
}

/** The first moment of a day that is in the calendar: `Date` takes 30 February for 2 March. */
function readDay(day: string): number | undefined {
  const ms = Date.parse(`${day}T00:00:00Z`);
  return Number.isNaN(ms) || new Date(ms).toISOString().slice(0, 10) !== day ? undefined : ms;
}

function notATime(text: string) {
  return invalid(`${JSON.stringify(text)} is no time such as 2026-01-31T12:00:00Z or 2026-01-31`);
}

function invalid(reason: string) {
  return refused(refusal('parameter-invalid', { name: 'datetime', reason }));
}
