import { roundTo, toPosition } from '../export/make-collection.ts';
import type { LinkPiece } from '../network/match-links.ts';
import type { Complex, ComplexId, TunnelNetwork } from '../network/network.ts';
import { describeShapes, listDonors } from '../scheme/carry-schemes.ts';
import type { Comparison } from '../wire/comparison.ts';

type ComplexChange = Comparison['complexes'][number];

/** What became of each tunnel that is not as it was, sorted by id. */
export function compareComplexes(
  before: TunnelNetwork,
  after: TunnelNetwork,
  pieces: readonly LinkPiece[],
): readonly ComplexChange[] {
  const from = listDonors(before, after, pieces);
  const into = invert(from);
  const [was, is] = [indexById(before), indexById(after)];
  const shapes = [describeShapes(before), describeShapes(after)] as const;
  const ids = [...new Set([...was.keys(), ...is.keys()])].sort();
  return ids.flatMap((id): ComplexChange[] => {
    const [old, now] = [was.get(id), is.get(id)];
    const others = (list: readonly ComplexId[] | undefined) => (list ?? []).filter((other) => other !== id);
    const [parts, donors] = [others(into.get(id)), others(from.get(id))];
    if (old === undefined) return [make('appeared', id, old, now, donors)];
    if (now === undefined) return [make('vanished', id, old, now, parts)];
    // A part that stands on its own now, or another tunnel that is in this one now.
    const split = parts.filter((part) => !was.has(part));
    const joined = donors.filter((donor) => !is.has(donor));
    if (split.length > 0) return [make('split', id, old, now, split)];
    if (joined.length > 0) return [make('joined', id, old, now, joined)];
    return shapes[0].get(id) === shapes[1].get(id) ? [] : [make('changed', id, old, now, [])];
  });
}

function make(
  change: ComplexChange['change'],
  id: ComplexId,
  before: Complex | undefined,
  after: Complex | undefined,
  others: readonly ComplexId[],
): ComplexChange {
  const { name, bbox } = (after ?? before) as Complex;
  return {
    id,
    ...(name === undefined ? {} : { name }),
    change,
    others: [...others].sort(),
    ...(before === undefined ? {} : { lengthBeforeM: roundTo(before.lengthM, 3) }),
    ...(after === undefined ? {} : { lengthAfterM: roundTo(after.lengthM, 3) }),
    at: toPosition([(bbox[0] + bbox[2]) / 2, (bbox[1] + bbox[3]) / 2]),
  };
}

function indexById(network: TunnelNetwork): ReadonlyMap<ComplexId, Complex> {
  return new Map(network.complexes.map((complex) => [complex.id, complex]));
}

function invert(
  from: ReadonlyMap<ComplexId, readonly ComplexId[]>,
): ReadonlyMap<ComplexId, readonly ComplexId[]> {
  const into = new Map<ComplexId, ComplexId[]>();
  for (const [id, donors] of from)
    for (const donor of donors) into.set(donor, [...(into.get(donor) ?? []), id]);
  return into;
}
