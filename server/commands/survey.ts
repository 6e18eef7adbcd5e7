import { findOrigin } from '../../shared/export/origin.ts';
import { NETWORK_RULES } from '../../shared/network/build-network.ts';
import type { Result } from '../../shared/outcome/result.ts';
import { buildSurvey, listComplexNetworks } from '../../shared/pipeline/build-survey.ts';
import { designComplex } from '../../shared/pipeline/design-complex.ts';
import { driveComplex, withRanking } from '../../shared/pipeline/rank-survey.ts';
import { rulesFor } from '../../shared/pipeline/rules-for.ts';
import { toSurveyFiles } from '../../shared/pipeline/to-survey-files.ts';
import { matchEvidence } from '../../shared/ranking/evidence.ts';
import { makeScheme } from '../../shared/scheme/scheme.ts';
import { readGrouping, readInput, readRulePatch, writeFiles } from './files.ts';
import { describeMatches, readEvidence } from './read-evidence.ts';
import { tell } from './tell.ts';

export type SurveyOptions = {
  readonly out: string;
  readonly rules?: string;
  readonly grouping?: string;
  readonly traffic?: string;
  readonly existing?: string;
};

/** `boremark survey`: the whole pipeline for an area, into a folder. */
export async function survey(input: string, options: SurveyOptions): Promise<Result<null>> {
  const patch = readRulePatch(options.rules);
  if (!patch.ok) return patch;
  const grouping = readGrouping(options.grouping);
  if (!grouping.ok) return grouping;
  const evidence = await readEvidence(options);
  if (!evidence.ok) return evidence;
  const name = input === '-' ? 'standard input' : input;
  const extract = await readInput(input);
  if (!extract.ok) return extract;
  tell('building the network');
  const base = buildSurvey(extract.value, name, { ...NETWORK_RULES, overrides: grouping.value });
  if (!base.ok) return base;
  const { network, findings } = base.value;
  const rules = rulesFor(network, patch.value);
  const matched = matchEvidence(network, evidence.value);
  const { existing, traffic } = matched.value;
  const all = [...findings, ...matched.findings];
  const driven = listComplexNetworks(network).map((complexNetwork, i) => {
    const made = designComplex(complexNetwork, rules, makeScheme(complexNetwork.complex.id));
    all.push(...made.findings);
    const { id } = complexNetwork.complex;
    tell(`designing and driving ${i + 1} of ${network.complexes.length} tunnels`);
    return {
      network: complexNetwork,
      design: made.value,
      existing: existing.byComplex[id] ?? [],
      failures: driveComplex(complexNetwork, made.value),
    };
  });
  const designed = withRanking(driven, traffic, rules);
  const written = await writeFiles(
    options.out,
    toSurveyFiles({
      base: base.value,
      designed,
      findings: all,
      members: { rules, origin: findOrigin(extract.value.source) },
    }),
  );
  tell('');
  if (written.ok) {
    const beacons = designed.reduce((sum, { design }) => sum + design.beacons.length, 0);
    process.stdout.write(`${designed.length} tunnels, ${beacons} beacons planned: ${options.out}\n`);
    for (const line of describeMatches(evidence.value, matched.value)) process.stdout.write(`${line}\n`);
  }
  return written;
}
