import type { OsmExtract, OsmRelation } from '../osm/extract.ts';
import { type Finding, finding, type Staged } from '../outcome/finding.ts';

/** Which turns are allowed at a node, by the OSM ids of the ways. */
export type TurnRules = { allows(viaNode: number, fromWay: number, toWay: number): boolean };

type Turn = { readonly only: boolean; readonly from: ReadonlySet<number>; readonly to: ReadonlySet<number> };

/** Vehicles that a car counts among, for `except` and for `restriction:<vehicle>`. */
const CAR: ReadonlySet<string> = new Set(['motorcar', 'motor_vehicle', 'vehicle']);

/**
 * Reads `type=restriction` relations whose via is a node. Those that do not hold for cars are
 * passed over; those whose via is a way, or that name no kind or no members, leave a finding.
 */
export function readRestrictions(extract: OsmExtract): Staged<TurnRules> {
  const byNode = new Map<number, Turn[]>();
  const findings: Finding[] = [];
  for (const relation of extract.relations) {
    if (relation.tags.type !== 'restriction') continue;
    const value = restrictionForCars(relation);
    // U-turns are left out of every movement anyway.
    if (value === undefined || value === 'no_u_turn') continue;
    const members = (role: string, type: string) =>
      relation.members.filter((m) => m.role === role && m.type === type).map((m) => m.ref);
    const [from, to, via] = [members('from', 'way'), members('to', 'way'), members('via', 'node')];
    const kind = /^(no|only)_/.exec(value)?.[1];
    const viaNode = via[0];
    if (kind === undefined || viaNode === undefined || from.length === 0 || to.length === 0) {
      findings.push(
        finding(
          'restriction-unreadable',
          { kind: 'relation', id: String(relation.id) },
          { restriction: value },
        ),
      );
      continue;
    }
    const turn = { only: kind === 'only', from: new Set(from), to: new Set(to) };
    byNode.set(viaNode, [...(byNode.get(viaNode) ?? []), turn]);
  }
  return { value: { allows: (node, from, to) => allows(byNode.get(node), from, to) }, findings };
}

function allows(turns: readonly Turn[] | undefined, from: number, to: number): boolean {
  if (turns === undefined) return true;
  return turns
    .filter((turn) => turn.from.has(from))
    .every((turn) => (turn.only ? turn.to.has(to) : !turn.to.has(to)));
}

function restrictionForCars(relation: OsmRelation): string | undefined {
  const except = (relation.tags.except ?? '').split(';').map((vehicle) => vehicle.trim());
  if (except.some((vehicle) => CAR.has(vehicle))) return undefined;
  const forCars = [...CAR].map((vehicle) => relation.tags[`restriction:${vehicle}`]);
  return relation.tags.restriction ?? forCars.find((value) => value !== undefined);
}
