import type { ComplexNetwork } from '../network/network.ts';
import type { Rules } from '../placement/rules.ts';
import type { CommandContext } from '../scheme/apply-command.ts';
import { listBeacons } from './design-complex.ts';

/** What the edits of one tunnel are checked against, the same on the server and in the browser. */
export function makeCommandContext(network: ComplexNetwork, surveyRules: Rules): CommandContext {
  return { network, listBeacons: (scheme) => listBeacons(network, surveyRules, scheme) };
}
