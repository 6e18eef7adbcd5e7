import { makeCollection } from '../../shared/export/make-collection.ts';
import { findOrigin } from '../../shared/export/origin.ts';
import { toBeaconFeatures } from '../../shared/export/to-beacon-features.ts';
import type { Finding } from '../../shared/outcome/finding.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { buildSurvey, listComplexNetworks } from '../../shared/pipeline/build-survey.ts';
import { designComplex } from '../../shared/pipeline/design-complex.ts';
import { rulesFor } from '../../shared/pipeline/rules-for.ts';
import type { Design } from '../../shared/placement/design.ts';
import { checkRule, type Rules } from '../../shared/placement/rules.ts';
import { makeScheme } from '../../shared/scheme/scheme.ts';
import type { RulePatch } from '../../shared/wire/survey.ts';
import { readInput, readRulePatch, writeOne } from './files.ts';
import { describeGap, proveFewest } from './prove-fewest.ts';
import { tell } from './tell.ts';

export type DesignOptions = {
  readonly complex: string;
  readonly out: string;
  readonly rules?: string;
  readonly spacing?: string;
  readonly method?: string;
  readonly timeLimit: string;
};

/** The solver's time by default, and the longest that may be asked for, seconds. */
export const DEFAULT_TIME_LIMIT_S = 20;
const LONGEST_S = 86_400;

/** `boremark design`: the beacons of one tunnel as GeoJSON, with the checks of the design as foreign members. */
export async function design(input: string, options: DesignOptions): Promise<Result<null>> {
  const patch = withMethod(withSpacing(readRulePatch(options.rules), options.spacing), options.method);
  if (!patch.ok) return patch;
  const timeLimitS = readTimeLimit(options.timeLimit);
  if (!timeLimitS.ok) return timeLimitS;
  const extract = await readInput(input);
  if (!extract.ok) return extract;
  tell('building the network');
  const base = buildSurvey(extract.value, input);
  if (!base.ok) return base;
  const network = listComplexNetworks(base.value.network).find(
    ({ complex }) => complex.id === options.complex,
  );
  if (network === undefined) return refused(refusal('complex-unknown', { id: options.complex }));
  const rules = rulesFor(base.value.network, patch.value);
  const start = makeScheme(network.complex.id);
  const scheme = await proveFewest(network, rules, start, timeLimitS.value);
  const { value, findings } = designComplex(network, rules, scheme);
  const collection = makeCollection(toBeaconFeatures(network, value), findOrigin(extract.value.source), {
    rules,
  });
  const { checks, fewest, survival } = value;
  const { bound, gaps = [] } = fewest ?? {};
  const members = {
    checks,
    method: rules.method,
    ...(bound === undefined ? {} : { bound }),
    ...(gaps.length === 0 ? {} : { gaps }),
    ...(survival === undefined ? {} : { survival }),
  };
  const written = await writeOne(options.out, `${JSON.stringify({ ...collection, ...members })}\n`);
  tell('');
  if (written.ok) {
    const reason = findings.find(({ code }) => code === 'complex-not-designed')?.params.reason;
    process.stdout.write(`${describeDesign(value, reason)}: ${options.out}\n`);
    for (const gap of gaps) process.stdout.write(`  ${describeGap(gap)}\n`);
  }
  return written;
}

/** How many beacons are planned, and what should be known of them; `reason`: why a tunnel is only listed. */
function describeDesign(
  { beacons, checks, fewest }: Design,
  reason: Finding['params'][string] | undefined,
): string {
  const proof = fewest === undefined ? '' : ` (${describeProof(beacons.length, fewest.bound)})`;
  const why = reason === undefined ? '' : ` (listed only: ${reason})`;
  const unmet = checks.filter(({ status }) => status === 'not met').length;
  const checked = unmet === 0 ? '' : `, ${unmet} of ${checks.length} checks not met`;
  return `${beacons.length} beacons planned${proof}${why}${checked}`;
}

function describeProof(count: number, bound: number | undefined): string {
  if (bound === undefined) return 'not proven';
  return bound === count ? 'proven fewest' : `at least ${bound} needed`;
}

function withMethod(patch: Result<RulePatch>, method: string | undefined): Result<RulePatch> {
  if (!patch.ok || method === undefined) return patch;
  const bad = checkRule('method', method);
  return bad === undefined ? done({ ...patch.value, method: method as Rules['method'] }) : refused(bad);
}

function readTimeLimit(text: string): Result<number> {
  const value = text.trim() === '' ? Number.NaN : Number(text);
  if (value >= 0 && value <= LONGEST_S) return done(value);
  return refused(
    refusal('rule-invalid', { rule: 'Time limit', min: 0, max: LONGEST_S, unit: 's', value: text }),
  );
}

function withSpacing(patch: Result<RulePatch>, spacing: string | undefined): Result<RulePatch> {
  if (!patch.ok || spacing === undefined) return patch;
  const spacingM = spacing.trim() === '' ? Number.NaN : Number(spacing);
  // What was typed, where it is no number.
  const bad = checkRule('spacingM', Number.isNaN(spacingM) ? spacing : spacingM);
  return bad === undefined ? done({ ...patch.value, spacingM }) : refused(bad);
}
