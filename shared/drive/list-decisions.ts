import type { ComplexNetwork, Decision, LinkId, Route } from '../network/network.ts';
import type { Rules } from '../placement/rules.ts';
import { sightDistanceM } from '../placement/sight-distance.ts';
import type { Course } from './build-course.ts';
import type { DecisionDrive } from './drive.ts';
import { listAhead, type Turns } from './make-turns.ts';

/** A decision point on a route before anything is driven. */
export type DecisionAhead = Omit<DecisionDrive, 'failures' | 'misguidedShare' | 'errorM'>;

/**
 * Lists the decision points of a route in the order in which they are met, with the distances that guidance is judged
 * by: those underground where the driver can choose, then those after the exit portal. A lead is early, too, where it
 * reaches back to the decision point before, the last one underground for those in the open air: which of the roads there
 * the driver takes is not known.
 */
export function listDecisions(
  network: ComplexNetwork,
  route: Route,
  course: Course,
  rules: Rules,
  turns: Turns,
): readonly DecisionAhead[] {
  const listed: DecisionAhead[] = [];
  let beforeM = Number.NEGATIVE_INFINITY;
  const add = (decision: Decision, atM: number, linkId: LinkId, reachShare = 1) => {
    const { osmNode, where, speedMps } = decision;
    const earlyLimitM = Math.min(rules.earlyToleranceM, atM - beforeM);
    const place = { osmNode, where, routeId: route.id, linkId, atM, reachShare };
    listed.push({ ...place, ...measure(speedMps, rules), earlyLimitM });
  };
  for (const step of course.steps) {
    const decision = turns.findDecision(step, step.endNode);
    if (decision === undefined) continue;
    add(decision, step.toM, step.linkId);
    beforeM = step.toM;
  }
  const lastId = (course.steps.at(-1) as Course['steps'][number]).linkId;
  for (const { decision, distanceM, reachShare } of listAhead(network, route))
    add(decision, course.lengthM + distanceM, lastId, reachShare);
  return listed;
}

function measure(speedMps: number, rules: Rules) {
  const sightM = sightDistanceM(speedMps, rules.decisionTimeS);
  const announceM = sightDistanceM(speedMps, rules.announceTimeS);
  const lateLimitM = Math.max(0, announceM - sightM + rules.lateToleranceM);
  return { speedMps, sightM, announceM, lateLimitM };
}
