import { makeCollection } from '../../shared/export/make-collection.ts';
import { findOrigin } from '../../shared/export/origin.ts';
import { toBeaconFeatures } from '../../shared/export/to-beacon-features.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { buildSurvey, listComplexNetworks } from '../../shared/pipeline/build-survey.ts';
import { designComplex } from '../../shared/pipeline/design-complex.ts';
import { rulesFor } from '../../shared/pipeline/rules-for.ts';
import { checkRule } from '../../shared/placement/rules.ts';
import { makeScheme } from '../../shared/scheme/scheme.ts';
import type { RulePatch } from '../../shared/wire/survey.ts';
import { readInput, readRulePatch, writeOne } from './files.ts';
import { tell } from './tell.ts';

export type DesignOptions = {
  readonly complex: string;
  readonly out: string;
  readonly rules?: string;
  readonly spacing?: string;
};

/** `boremark design`: the beacons of one tunnel as GeoJSON, with the checks of the design as foreign members. */
export async function design(input: string, options: DesignOptions): Promise<Result<null>> {
  const patch = withSpacing(readRulePatch(options.rules), options.spacing);
  if (!patch.ok) return patch;
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
  const { value, findings } = designComplex(network, rules, makeScheme(network.complex.id));
  const collection = makeCollection(toBeaconFeatures(network, value), findOrigin(extract.value.source), {
    rules,
  });
  const { checks, survival } = value;
  const text = `${JSON.stringify({ ...collection, checks, ...(survival === undefined ? {} : { survival }) })}\n`;
  const written = await writeOne(options.out, text);
  tell('');
  if (written.ok) {
    const reason = findings.find(({ code }) => code === 'complex-not-designed')?.params.reason;
    const why = reason === undefined ? '' : ` (listed only: ${reason})`;
    const unmet = checks.filter(({ status }) => status === 'not met').length;
    const checked = unmet === 0 ? '' : `, ${unmet} of ${checks.length} checks not met`;
    process.stdout.write(`${value.beacons.length} beacons planned${why}${checked}: ${options.out}\n`);
  }
  return written;
}

function withSpacing(patch: Result<RulePatch>, spacing: string | undefined): Result<RulePatch> {
  if (!patch.ok || spacing === undefined) return patch;
  const spacingM = spacing.trim() === '' ? Number.NaN : Number(spacing);
  const bad = checkRule('spacingM', spacingM);
  return bad === undefined ? done({ ...patch.value, spacingM }) : refused(bad);
}
