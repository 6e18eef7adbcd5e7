import type { Link, LinkId, Route, RouteStep } from '../network/network.ts';
import { keyOfText } from './chance.ts';
import type { Sender } from './list-senders.ts';

/** Driving time at the speed limit from an exit portal until satellites give a fix again. Project default as in DOMAIN §2.7. */
export const RECOVERY_S = 5;

/** A part of a route with one speed limit. */
export type Limit = { readonly fromM: number; readonly toM: number; readonly limitMps: number };

/** A beacon of the route, metres from the entry portal. */
export type Pass = { readonly atM: number; readonly sender: Sender };

/** A step of the route; `end` is the node that it leads to. */
export type CourseStep = RouteStep & {
  readonly fromM: number;
  readonly toM: number;
  readonly endNode: number;
};

/** A route as it is driven, laid out in metres from the entry portal; the last limit runs on in the open air. */
export type Course = {
  readonly routeId: string;
  readonly key: number;
  readonly lengthM: number;
  /** Where satellites give a fix again, past the exit portal. */
  readonly recoveryM: number;
  readonly limits: readonly Limit[];
  readonly steps: readonly CourseStep[];
  /** The beacons in the order in which they are met, each once. */
  readonly passes: readonly Pass[];
};

/** Lays a route out with the beacons that stand along it, those at its nodes included, whichever link they belong to. */
export function buildCourse(
  route: Route,
  links: ReadonlyMap<LinkId, Link>,
  senders: readonly Sender[],
): Course {
  const limits: Limit[] = [];
  const steps: CourseStep[] = [];
  let atM = 0;
  const drive = (lengthM: number, limitMps: number) => {
    const last = limits.at(-1);
    if (last?.limitMps === limitMps) limits[limits.length - 1] = { ...last, toM: atM + lengthM };
    else limits.push({ fromM: atM, toM: atM + lengthM, limitMps });
    atM += lengthM;
  };
  for (const step of route.steps) {
    const link = links.get(step.linkId);
    if (link === undefined)
      throw new Error(`route ${route.id} names a link that is not there: ${step.linkId}`);
    const { opening } = step;
    if (opening !== undefined) drive(opening.lengthM, opening.lengthM / opening.durationS);
    const fromM = atM;
    for (const stretch of step.against ? [...link.stretches].reverse() : link.stretches) {
      const limitMps = (step.against ? stretch.againstMps : stretch.alongMps) ?? stretch.speedMps;
      drive(stretch.toM - stretch.fromM, limitMps);
    }
    steps.push({ ...step, fromM, toM: atM, endNode: step.against ? link.fromNode : link.toNode });
  }
  const last = limits.at(-1);
  if (last === undefined) throw new Error(`route ${route.id} has no steps`);
  const recoveryM = atM + RECOVERY_S * last.limitMps;
  limits[limits.length - 1] = { ...last, toM: recoveryM };
  const passes = listPasses(route, steps, senders);
  return { routeId: route.id, key: keyOfText(route.id), lengthM: atM, recoveryM, limits, steps, passes };
}

function listPasses(route: Route, steps: readonly CourseStep[], senders: readonly Sender[]): readonly Pass[] {
  const nodes = new Map<number, number>([[route.entryNode, 0]]);
  for (const { opening, fromM, toM, endNode } of steps) {
    if (opening !== undefined) nodes.set(opening.toNode, fromM);
    nodes.set(endNode, toM);
  }
  const stepOf = new Map(steps.map((step) => [step.linkId, step]));
  return senders
    .flatMap((sender): Pass[] => {
      const { node, at } = sender;
      if (node !== undefined) {
        const atM = nodes.get(node);
        return atM === undefined ? [] : [{ atM, sender }];
      }
      const step = stepOf.get(at.linkId);
      if (step === undefined) return [];
      return [{ atM: step.against ? step.toM - at.chainageM : step.fromM + at.chainageM, sender }];
    })
    .sort((a, b) => a.atM - b.atM);
}
