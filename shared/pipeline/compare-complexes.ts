import { roundTo, toPosition } from '../export/make-collection.ts';
import type { ComplexId, ComplexNetwork, TunnelNetwork } from '../network/network.ts';
import type { CarriedSchemes } from '../scheme/carry-schemes.ts';
import type { Comparison } from '../wire/comparison.ts';
import { listComplexNetworks } from './build-survey.ts';
import { listFacets } from './list-facets.ts';

type ComplexChange = Comparison['complexes'][number];

/** What became of each tunnel that is not as it was, sorted by id. */
export function compareComplexes(
  before: TunnelNetwork,
  after: TunnelNetwork,
  { donors: from, isSame }: Pick<CarriedSchemes, 'donors' | 'isSame'>,
): readonly ComplexChange[] {
  const into = invert(from);
  const [was, is] = [indexById(before), indexById(after)];
  const ids = [...new Set([...was.keys(), ...is.keys()])].sort();
  return ids.flatMap((id): ComplexChange[] => {
    const states = { before: was.get(id), after: is.get(id) };
    const others = (list: readonly ComplexId[] | undefined) => (list ?? []).filter((other) => other !== id);
    const [parts, donors] = [others(into.get(id)), others(from.get(id))];
    if (states.before === undefined) return [make('appeared', states, donors)];
    if (states.after === undefined) return [make('vanished', states, parts)];
    const facets = listFacets(states.before, states.after, isSame(id));
    // A part that stands on its own now, or another tunnel that is in this one now.
    const split = parts.filter((part) => !was.has(part));
    const joined = donors.filter((donor) => !is.has(donor));
    if (split.length > 0) return [make('split', states, split, facets)];
    if (joined.length > 0) return [make('joined', states, joined, facets)];
    return facets.length === 0 ? [] : [make('changed', states, [], facets)];
  });
}

type States = { readonly before: ComplexNetwork | undefined; readonly after: ComplexNetwork | undefined };

function make(
  change: ComplexChange['change'],
  { before, after }: States,
  others: readonly ComplexId[],
  facets: readonly ComplexChange['facets'][number][] = [],
): ComplexChange {
  const { id, name, bbox } = ((after ?? before) as ComplexNetwork).complex;
  return {
    id,
    ...(name === undefined ? {} : { name }),
    change,
    others: [...others].sort(),
    facets: [...facets],
    ...(before === undefined ? {} : { lengthBeforeM: roundTo(before.complex.lengthM, 3) }),
    ...(after === undefined ? {} : { lengthAfterM: roundTo(after.complex.lengthM, 3) }),
    at: toPosition([(bbox[0] + bbox[2]) / 2, (bbox[1] + bbox[3]) / 2]),
  };
}

function indexById(network: TunnelNetwork): ReadonlyMap<ComplexId, ComplexNetwork> {
  return new Map(listComplexNetworks(network).map((one) => [one.complex.id, one]));
}

function invert(
  from: ReadonlyMap<ComplexId, readonly ComplexId[]>,
): ReadonlyMap<ComplexId, readonly ComplexId[]> {
  const into = new Map<ComplexId, ComplexId[]>();
  for (const [id, donors] of from)
    for (const donor of donors) into.set(donor, [...(into.get(donor) ?? []), id]);
  return into;
}
