import type { RuleName } from '../../shared/placement/rules.ts';

/** Which rules belong together on the screen, in the order in which a design is thought through. */
export const RULE_GROUPS = {
  layout: ['method', 'spacingM', 'portalOffsetM', 'portalToleranceM', 'closestM', 'minimumOutageS'],
  coverage: ['coverageRadiusM', 'coverageDepth', 'redundancy', 'failureShare'],
  decisions: ['branchConfirmationM', 'forkOverlapM', 'decisionBeacons', 'decisionTimeS'],
  drive: [
    'assumedSpeed',
    'speedMeanShare',
    'speedSpreadShare',
    'speedShape',
    'congestionShare',
    'congestionSpeedShare',
    'congestionLengthM',
    'portalFixErrorM',
    'beaconFixErrorM',
    'latencyS',
    'announceTimeS',
    'lateToleranceM',
    'earlyToleranceM',
    'satnavShare',
  ],
  mounting: ['side', 'drivingSide', 'mountingHeightM', 'laneWidthM', 'shoulderM'],
  radio: ['coverageSource', 'measuredRadiusM', 'beaconProfile', 'receiverProfile', 'region', 'boreHeightM'],
} as const satisfies Readonly<Record<string, readonly RuleName[]>>;

export type RuleGroup = keyof typeof RULE_GROUPS;

/** The groups in their order. */
export const RULE_GROUP_NAMES = Object.keys(RULE_GROUPS) as readonly RuleGroup[];
