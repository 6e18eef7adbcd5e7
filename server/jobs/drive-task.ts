import { createHash } from 'node:crypto';
import type { DecisionDrive } from '../../shared/drive/drive.ts';
import type { ComplexId, ComplexNetwork } from '../../shared/network/network.ts';
import { done, type Result } from '../../shared/outcome/result.ts';
import { designComplex } from '../../shared/pipeline/design-complex.ts';
import { driveComplex } from '../../shared/pipeline/rank-survey.ts';
import type { Design } from '../../shared/placement/design.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import type { Scheme } from '../../shared/scheme/scheme.ts';
import type { Progress } from '../../shared/wire/survey.ts';
import { type DriveCaseName, toCaseRules } from '../surveys/drive-cases.ts';

/** Tunnels to be driven, each as its scheme stands. */
export type DriveTask = {
  readonly name: string;
  readonly rules: Rules;
  readonly tunnels: readonly { readonly network: ComplexNetwork; readonly scheme: Scheme }[];
  readonly caseName?: DriveCaseName;
};

/** What drives through a tunnel came to; `digest` tells of which state of it (digestDesign). */
export type DrivenTunnel = {
  readonly id: ComplexId;
  readonly digest: string;
  readonly failures: readonly DecisionDrive[];
};

/** Drives tunnels one after the other. Runs in a worker thread: a city takes minutes. */
export function runDrives(
  { rules, tunnels, caseName }: DriveTask,
  report: (progress: Progress) => void,
): Result<readonly DrivenTunnel[]> {
  const total = tunnels.length;
  const driven = tunnels.map(({ network, scheme }, i): DrivenTunnel => {
    report({ stage: 'driving', done: i, total });
    const { value: design } = designComplex(network, rules, scheme);
    const failures = driveComplex(network, { ...design, rules: toCaseRules(design.rules, caseName) });
    return { id: network.complex.id, digest: digestDesign(network, design), failures };
  });
  return done(driven);
}

/** The same for the same tunnel with the same design, whoever made it, and for no other. */
export function digestDesign(network: ComplexNetwork, design: Design): string {
  return createHash('sha256')
    .update(JSON.stringify([network, design]))
    .digest('base64url');
}
