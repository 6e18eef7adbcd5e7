import type { ComplexNetwork, Link, LinkId, Route } from '../network/network.ts';
import type { Design } from '../placement/design.ts';
import { buildCourse } from './build-course.ts';
import { chooseRoutes } from './choose-routes.ts';
import { prepareListening } from './draw-fixes.ts';
import type { BranchConfusion, DecisionDrive, Drive, RouteDrive } from './drive.ts';
import { driveRoute } from './drive-route.ts';
import { type DecisionAhead, listDecisions } from './list-decisions.ts';
import { type Fork, listForks } from './list-forks.ts';
import { listSenders } from './list-senders.ts';
import { makeMisses } from './make-misses.ts';
import { makeTurns } from './make-turns.ts';
import { tallyDecision } from './tally-decision.ts';
import { type ErrorRoom, makeErrorRoom, tallyErrors } from './tally-errors.ts';
import { tallyFork } from './tally-fork.ts';

/** What of a design is driven with. */
export type Driveable = Pick<Design, 'rules' | 'beacons' | 'coverage'>;

/** How many drives for each route, and what they are drawn from; both whole numbers. */
export type DriveOptions = { readonly drives?: number; readonly seed?: number };

const DRIVES = 2_000;
const SURVEY_DRIVES = 500;
const SEED = 1;

/**
 * Drives the routes of a complex many times, without its beacons and with them: the error along each route, the failures
 * at each decision point, the confusion past each fork. Seeded: the same input gives the same bytes in any order of the
 * beacons, and each route the same drives whatever others there are. Fewer than one drive is a bug of the caller.
 */
export function buildDrive(
  network: ComplexNetwork,
  design: Driveable,
  { drives = DRIVES, seed = SEED }: DriveOptions = {},
): Drive {
  const prepared = prepare(network, design, { drives, seed });
  const chosen = chooseRoutes(network, prepared.turns, 'all');
  const routes: RouteDrive[] = [];
  const decisions: DecisionDrive[] = [];
  const branches = new Map<string, BranchConfusion | undefined>();
  const room = makeErrorRoom(drives);
  for (const route of chosen) {
    const plan = prepared.plan(route);
    // Drivers who take a branch come to it alike: once is enough.
    const forks = plan.listForks().filter((fork) => !branches.has(nameFork(fork)));
    for (const fork of forks) branches.set(nameFork(fork), undefined);
    const driven = plan.drive(forks, room);
    routes.push(...driven.routes);
    decisions.push(...driven.decisions);
    for (const branch of driven.branches) branches.set(nameFork(branch), branch);
  }
  const routesLeftOut = network.complex.routes.length - chosen.length;
  const confused = [...branches.values()].filter((branch) => branch !== undefined);
  return { seed, drives, routesLeftOut, routes, decisions, branches: confused };
}

/**
 * The failures at the decision points alone, for a whole city: each point once by each link that leads to it from each
 * portal where one may have entered, on as few routes as meet them all. The drives of a route are those of buildDrive for as many drives.
 */
export function findFailures(
  network: ComplexNetwork,
  design: Driveable,
  { drives = SURVEY_DRIVES, seed = SEED }: DriveOptions = {},
): readonly DecisionDrive[] {
  const { diverges, decisionsAfterPortal } = network.complex;
  if (diverges.length + decisionsAfterPortal.length === 0) return [];
  const { turns, plan } = prepare(network, design, { drives, seed });
  const found = new Map<string, DecisionDrive>();
  for (const route of chooseRoutes(network, turns, 'decisions')) {
    // Those that were met on another route too: who is misguided there is not misguided again farther on.
    for (const decision of plan(route).drive([]).decisions) {
      const name = `${nameFork(decision)} ${route.entryNode}`;
      if (!found.has(name)) found.set(name, decision);
    }
  }
  return [...found.values()];
}

/** What all routes of a complex have in common. */
function prepare(network: ComplexNetwork, design: Driveable, options: Required<DriveOptions>) {
  if (!(Number.isInteger(options.drives) && options.drives >= 1)) throw new Error(`${options.drives} drives`);
  const { rules } = design;
  const links = new Map<LinkId, Link>(network.links.map((link) => [link.id, link]));
  const [turns, misses, senders] = [makeTurns(network), makeMisses(rules), listSenders(network, design)];
  const plan = (route: Route) => {
    const course = buildCourse(route, links, senders);
    const decisions = listDecisions(network, route, course, rules, turns);
    return {
      listForks: () => listForks(network, course, senders, { rules, turns, misses }),
      drive: (forks: readonly Fork[], room?: ErrorRoom) =>
        tallyRoute({ course, decisions, forks, room }, rules, misses, options),
    };
  };
  return { turns, plan };
}

type Wanted = {
  readonly course: ReturnType<typeof buildCourse>;
  readonly decisions: readonly DecisionAhead[];
  readonly forks: readonly Fork[];
  /** Absent: no errors along the route are wanted. */
  readonly room: ErrorRoom | undefined;
};

function tallyRoute(
  { course, decisions, forks, room }: Wanted,
  rules: Driveable['rules'],
  misses: ReturnType<typeof makeMisses>,
  options: Required<DriveOptions>,
) {
  const listening = prepareListening(course, rules, misses);
  const ofErrors = room === undefined ? [] : [tallyErrors(course, room)];
  const ofDecisions = decisions.map((decision) => tallyDecision(decision, options.drives));
  const ofForks = forks.map((fork) => tallyFork(fork, course, rules, options.drives));
  driveRoute(course, rules, listening, options, ({ drive, key, motion, fixes }) => {
    for (const tally of ofErrors) tally.note(drive, motion, fixes);
    const soFar = { without: 0, with: 0 };
    for (const tally of ofDecisions) tally.note(drive, motion, fixes, soFar);
    for (const tally of ofForks) tally.note(drive, motion, listening, key);
  });
  return {
    routes: ofErrors.map((tally) => tally.sum()),
    decisions: ofDecisions.map((tally) => tally.sum()),
    branches: ofForks.map((tally) => tally.sum()),
  };
}

function nameFork({ osmNode, linkId }: Pick<Fork, 'osmNode' | 'linkId'>): string {
  return `${osmNode} ${linkId}`;
}
