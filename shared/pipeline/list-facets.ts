import type { ComplexNetwork, Decision, Link, Stretch } from '../network/network.ts';
import type { FACETS } from '../wire/comparison.ts';

type Facet = (typeof FACETS)[number];

/**
 * In what two states of a tunnel differ. Values along a link (limits, widths) are compared in their order, and with
 * the chainage where they change as long as the shape is the same.
 */
export function listFacets(
  before: ComplexNetwork,
  after: ComplexNetwork,
  isSameShape: boolean,
): readonly Facet[] {
  const texts: Readonly<Record<Exclude<Facet, 'shape'>, (network: ComplexNetwork) => unknown>> = {
    kind: ({ complex }) => complex.kind,
    access: ({ complex, links }) => [complex.restricted, links.map(({ restricted }) => restricted)],
    name: ({ complex }) => [complex.name, complex.ref],
    portals: ({ complex }) =>
      complex.portals.map(({ osmNode, direction, deadEnd }) => [osmNode, direction, deadEnd]),
    decisions: ({ complex }) => [
      ...complex.diverges.map(describeDecision),
      ...complex.decisionsAfterPortal.map(describeDecision),
    ],
    limits: ({ links }) =>
      links.map((link) =>
        listRuns(link, isSameShape, ({ speedMps, alongMps, againstMps }) => [speedMps, alongMps, againstMps]),
      ),
    widths: ({ links }) =>
      links.map((link) =>
        listRuns(link, isSameShape, ({ lanes, widthM, centreLanes }) => [lanes, widthM, centreLanes]),
      ),
    features: ({ complex }) => complex.features.map(({ kind, osm, label }) => [kind, osm, label]),
  };
  const differ = (Object.keys(texts) as (keyof typeof texts)[]).filter(
    (facet) => JSON.stringify(texts[facet](before)) !== JSON.stringify(texts[facet](after)),
  );
  return isSameShape ? differ : [...differ, 'shape'];
}

function describeDecision({ osmNode, where, inside, branches }: Decision) {
  // Not the ways of the branches, nor their order by ways: these are others after a way was cut in two.
  const described = branches.map(({ linkId, exit, label }) => JSON.stringify([linkId, exit, label]));
  return [osmNode, where, inside, described.sort()];
}

/** The values along a link in order, equal neighbours as one: a cut way changes nothing. */
function listRuns(
  { stretches }: Link,
  withChainage: boolean,
  of: (stretch: Stretch) => readonly (number | undefined)[],
): readonly unknown[] {
  const runs: { value: string; toM: number }[] = [];
  for (const stretch of stretches) {
    const value = JSON.stringify(of(stretch));
    const last = runs.at(-1);
    if (last?.value === value) last.toM = stretch.toM;
    else runs.push({ value, toM: stretch.toM });
  }
  return runs.map(({ value, toM }) => (withChainage ? [value, Math.round(toM * 10)] : value));
}
