import type { ComplexId } from '../network/network.ts';
import { byText } from '../outcome/by-text.ts';
import type { CarriedKeepOut } from '../scheme/carry-keep-outs.ts';
import type { Comparison } from '../wire/comparison.ts';

type Fate = 'moved' | 'cut short' | 'lost';

/** Below this a keep-out is where it was, metres. */
const SAME_M = 0.01;
/** With less than this missing it is whole, metres: the ends of links seldom meet exactly. */
const WHOLE_M = 1;

/** For each tunnel how many of its keep-outs have another address now, lost a part, or went with their bore. */
export function noteKeepOuts(
  carried: readonly CarriedKeepOut[],
  nameOf: (id: ComplexId) => string,
): Comparison['notes'] {
  const counts = new Map<ComplexId, Map<Fate, number>>();
  for (const one of carried) {
    const fate = findFate(one);
    if (fate === undefined) continue;
    const own = counts.get(one.complexId) ?? new Map<Fate, number>();
    counts.set(one.complexId, own.set(fate, (own.get(fate) ?? 0) + 1));
  }
  const sorted = [...counts].sort(([a], [b]) => byText(a, b));
  return sorted.map(([complexId, own]) => {
    const parts = [
      say(
        own.get('moved'),
        'keeps its place under another chainage',
        'keep their places under other chainages',
      ),
      say(
        own.get('cut short'),
        'is cut short where its bore is gone',
        'are cut short where their bores are gone',
      ),
      say(own.get('lost'), 'is dropped: its bore is gone', 'are dropped: their bores are gone'),
    ];
    const detail = `${nameOf(complexId)}: ${parts.filter((part) => part !== undefined).join(', ')}.`;
    return { code: 'keep-outs-changed', complexId, detail };
  });
}

function findFate({ complexId, before, parts, lostM }: CarriedKeepOut): Fate | undefined {
  const [first] = parts;
  if (first === undefined) return 'lost';
  if (lostM > WHOLE_M) return 'cut short';
  const { linkId, fromM, toM, wall } = first.keepOut;
  const isSame =
    parts.length === 1 &&
    first.complexId === complexId &&
    linkId === before.linkId &&
    wall === before.wall &&
    Math.abs(fromM - before.fromM) < SAME_M &&
    Math.abs(toM - before.toM) < SAME_M;
  return isSame ? undefined : 'moved';
}

function say(count: number | undefined, one: string, many: string): string | undefined {
  if (count === undefined) return undefined;
  return count === 1 ? `1 keep-out ${one}` : `${count} keep-outs ${many}`;
}
