import { byText } from '../outcome/by-text.ts';
import type { Finding, Staged } from '../outcome/finding.ts';
import { toRouteId } from './list-routes.ts';
import type { LinkPiece } from './match-links.ts';
import type { Complex, ComplexId, Link, LinkId, Route, TunnelNetwork } from './network.ts';

/** Two are the same where at least this share of the shorter one is found in the other. Project default. */
const SAME_SHARE = 0.5;

/**
 * Gives the links and complexes of a network the ids that they had before, one to one: first where the id is the same
 * by itself, then the longest common part. What is new keeps its own id, or gets a mark behind it where that id belonged to something else.
 *
 * @param pieces where the links of `before` are found in `after` (match-links.ts).
 * @returns the network and its findings under the kept ids, and the pieces with them.
 */
export function keepIdentity(
  before: TunnelNetwork,
  after: Staged<TunnelNetwork>,
  pieces: readonly LinkPiece[],
): Staged<TunnelNetwork> & { readonly pieces: readonly LinkPiece[] } {
  const links = renameLinks(before, after.value, pieces);
  const complexes = renameComplexes(before, after.value, pieces);
  const linkId = (id: LinkId) => links.get(id) ?? id;
  const complexId = (id: string) => complexes.get(id as ComplexId) ?? id;
  const byId = <T extends { readonly id: string }>(a: T, b: T) => (a.id < b.id ? -1 : 1);
  return {
    value: {
      ...after.value,
      links: after.value.links.map((link) => ({ ...link, id: linkId(link.id) })).sort(byId),
      complexes: after.value.complexes
        .map((complex) => renameIn(complex, complexId(complex.id) as ComplexId, linkId))
        .sort(byId),
    },
    findings: after.findings.map((item) => renameFinding(item, linkId, complexId)).sort(byId),
    pieces: pieces.map((piece) => ({ ...piece, afterId: linkId(piece.afterId) })),
  };
}

/** Something of both states, by its ids there, and how much they have in common. */
type Overlap<Id> = { readonly before: Id; readonly after: Id; lengthM: number };

function renameLinks(
  before: TunnelNetwork,
  after: TunnelNetwork,
  pieces: readonly LinkPiece[],
): ReadonlyMap<LinkId, LinkId> {
  const lengthOf = (links: readonly Link[]) => new Map(links.map(({ id, lengthM }) => [id, lengthM]));
  const overlaps = listOverlaps(
    pieces,
    (id) => id,
    (id) => id,
    lengthOf(before.links),
    lengthOf(after.links),
  );
  const ids = (links: readonly Link[]) => links.map(({ id }) => id);
  return assign(ids(before.links), ids(after.links), overlaps);
}

function renameComplexes(
  before: TunnelNetwork,
  after: TunnelNetwork,
  pieces: readonly LinkPiece[],
): ReadonlyMap<ComplexId, ComplexId> {
  const ids = (network: TunnelNetwork) => network.complexes.map(({ id }) => id);
  return assign(ids(before), ids(after), listCommonComplexes(before, after, pieces));
}

/** The pairs of complexes of two states that are the same one for a good part of the shorter of both. */
export function listCommonComplexes(
  before: TunnelNetwork,
  after: TunnelNetwork,
  pieces: readonly LinkPiece[],
): readonly Overlap<ComplexId>[] {
  const [was, is] = [indexComplexes(before), indexComplexes(after)];
  const lengthOf = ({ complexes }: TunnelNetwork) =>
    new Map(complexes.map(({ id, lengthM }) => [id, lengthM]));
  return listOverlaps(
    pieces,
    (id) => was.get(id),
    (id) => is.get(id),
    lengthOf(before),
    lengthOf(after),
  );
}

/** Which complex each link is in. */
export function indexComplexes(network: TunnelNetwork): ReadonlyMap<LinkId, ComplexId> {
  return new Map(network.complexes.flatMap(({ id, linkIds }) => linkIds.map((linkId) => [linkId, id])));
}

/** The common length of every pair that has at least SAME_SHARE of the shorter one in common. */
function listOverlaps<Id extends string>(
  pieces: readonly LinkPiece[],
  beforeOf: (id: LinkId) => Id | undefined,
  afterOf: (id: LinkId) => Id | undefined,
  beforeM: ReadonlyMap<Id, number>,
  afterM: ReadonlyMap<Id, number>,
): Overlap<Id>[] {
  const sums = new Map<string, Overlap<Id>>();
  for (const piece of pieces) {
    const [before, after] = [beforeOf(piece.beforeId), afterOf(piece.afterId)];
    if (before === undefined || after === undefined) continue;
    const sum = sums.get(`${before} ${after}`) ?? { before, after, lengthM: 0 };
    sum.lengthM += piece.toM - piece.fromM;
    sums.set(`${before} ${after}`, sum);
  }
  return [...sums.values()].filter(
    ({ before, after, lengthM }) =>
      lengthM >= SAME_SHARE * Math.min(beforeM.get(before) ?? 0, afterM.get(after) ?? 0),
  );
}

/** New id for each id of `after`: each id of `before` is given once, to whatever has most in common with it. */
function assign<Id extends string>(
  before: readonly Id[],
  after: readonly Id[],
  overlaps: readonly Overlap<Id>[],
): ReadonlyMap<Id, Id> {
  const named = new Map<Id, Id>();
  const taken = new Set<Id>();
  // What would be called the same without any memory comes first, so that a fresh import says the same.
  const isSame = (pair: Overlap<Id>) => (pair.before === pair.after ? 0 : 1);
  const sorted = [...overlaps].sort(
    (a, b) =>
      isSame(a) - isSame(b) ||
      b.lengthM - a.lengthM ||
      byText(a.before, b.before) ||
      byText(a.after, b.after),
  );
  for (const pair of sorted) {
    if (taken.has(pair.before) || named.has(pair.after)) continue;
    taken.add(pair.before);
    named.set(pair.after, pair.before);
  }
  // An id that meant something else must not mean this.
  const used = new Set(before);
  for (const id of after) {
    if (named.has(id)) continue;
    let free = id;
    for (let number = 2; used.has(free); number += 1) free = `${id}~${number}` as Id;
    used.add(free);
    named.set(id, free);
  }
  return named;
}

/** A complex under its kept id, with every link that it names under the kept one. */
function renameIn(complex: Complex, id: ComplexId, linkId: (id: LinkId) => LinkId): Complex {
  const branches = <T extends Complex['diverges'][number]>(decision: T): T => ({
    ...decision,
    branches: decision.branches.map((branch) =>
      branch.linkId === undefined ? branch : { ...branch, linkId: linkId(branch.linkId) },
    ),
  });
  const route = (one: Route): Route => {
    const steps = one.steps.map((step) => ({ ...step, linkId: linkId(step.linkId) }));
    return { ...one, id: toRouteId(one.entryNode, one.exitNode, steps), steps };
  };
  return {
    ...complex,
    id,
    linkIds: complex.linkIds.map(linkId).sort(),
    diverges: complex.diverges.map(branches),
    decisionsAfterPortal: complex.decisionsAfterPortal.map(branches),
    routes: complex.routes.map(route),
    features: complex.features.map((feature) => ({ ...feature, linkId: linkId(feature.linkId) })),
    grouping: complex.grouping.map((one) => ({ ...one, linkIds: one.linkIds.map(linkId).sort() })),
  };
}

function renameFinding(
  item: Finding,
  linkId: (id: LinkId) => string,
  complexId: (id: string) => string,
): Finding {
  const { subject, params } = item;
  const id =
    subject.kind === 'complex'
      ? complexId(subject.id)
      : subject.kind === 'link'
        ? linkId(subject.id as LinkId)
        : subject.id;
  const { tunnel } = params;
  return {
    ...item,
    id: item.id.replace(`${subject.kind}/${subject.id}`, `${subject.kind}/${id}`),
    subject: { ...subject, id },
    params: typeof tunnel === 'string' ? { ...params, tunnel: complexId(tunnel) } : params,
  };
}
