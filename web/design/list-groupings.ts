import { segmentBearingDeg } from '../../shared/geodesy/segment.ts';
import { joinByNodes } from '../../shared/network/group-links.ts';
import type { ComplexNetwork, Grouping, Link } from '../../shared/network/network.ts';
import { formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';
import { nameOfLink } from './list-beacon-rows.ts';

/** One of the two bores (with their ramps) that a grouping brings together. */
export type BoreSide = {
  readonly name: string;
  /** A way of it: what a split or a join names it by. */
  readonly wayId: number;
  readonly wayIds: readonly number[];
};

export type GroupingRow = {
  readonly key: string;
  readonly grouping: Grouping;
  /** Undefined where the bores share nodes: they cannot be split. */
  readonly sides: readonly [BoreSide, BoreSide] | undefined;
};

/** Why the links of a tunnel stand together, each reason with the two bores that could be split there. */
export function listGroupings({ complex, links }: ComplexNetwork): readonly GroupingRow[] {
  return complex.grouping.map((grouping) => {
    const members = links.filter((link) => grouping.linkIds.includes(link.id));
    const [one, other, ...more] = grouping.reason === 'shared-nodes' ? [] : joinByNodes(members);
    const sides =
      one === undefined || other === undefined || more.length > 0
        ? undefined
        : ([describeSide(one), describeSide(other)] as const);
    return { key: `${grouping.reason} ${grouping.detail} ${grouping.linkIds.join(' ')}`, grouping, sides };
  });
}

function describeSide(links: readonly Link[]): BoreSide {
  const longest = links.reduce((best, link) => (link.lengthM > best.lengthM ? link : best));
  const lengthM = links.reduce((sum, link) => sum + link.lengthM, 0);
  const wayIds = links.flatMap((link) => link.stretches.map((stretch) => stretch.wayId));
  return {
    name: words.grouping.bore(nameOfLink(longest), formatNumber(lengthM), headingOf(longest)),
    wayId: longest.stretches[0]?.wayId ?? wayIds[0] ?? 0,
    wayIds,
  };
}

/** Where a one-way bore leads, from its first to its last point: what tells twin bores apart. */
function headingOf({ direction, line }: Link): string | undefined {
  const [from, to] = [line[0], line.at(-1)];
  if (direction !== 'forward' || from === undefined || to === undefined) return undefined;
  return words.grouping.headings[Math.round(segmentBearingDeg(from, to) / 45) % 8];
}
