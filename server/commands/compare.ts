import { findOrigin } from '../../shared/export/origin.ts';
import { NETWORK_RULES } from '../../shared/network/build-network.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { type Result, refused } from '../../shared/outcome/result.ts';
import { buildSurvey } from '../../shared/pipeline/build-survey.ts';
import { compareSurveys, type NetworkComparison } from '../../shared/pipeline/compare-surveys.ts';
import { rebuildSurvey } from '../../shared/pipeline/rebuild-survey.ts';
import { rulesFor } from '../../shared/pipeline/rules-for.ts';
import { readGrouping, readInput, readRulePatch, writeOne } from './files.ts';
import type { SurveyOptions } from './survey.ts';
import { tell } from './tell.ts';

/** `boremark compare`: what a newer extract changes, as JSON. */
export async function compare(before: string, after: string, options: SurveyOptions): Promise<Result<null>> {
  const patch = readRulePatch(options.rules);
  if (!patch.ok) return patch;
  const grouping = readGrouping(options.grouping);
  if (!grouping.ok) return grouping;
  if (before === '-' && after === '-') {
    return refused(refusal('request-invalid', { reason: 'only one of the two can be standard input' }));
  }
  const overrides = grouping.value;
  const [older, newer] = [await readInput(before), await readInput(after)];
  if (!older.ok) return older;
  if (!newer.ok) return newer;
  tell('building the networks');
  const base = buildSurvey(older.value, before, { ...NETWORK_RULES, overrides });
  if (!base.ok) return base;
  const { network } = base.value;
  const rebuilt = rebuildSurvey(network, newer.value, after, overrides);
  if (!rebuilt.ok) return rebuilt;
  const found = compareSurveys(
    { network, rules: rulesFor(network, patch.value), schemes: [] },
    rebuilt.value,
  );
  const { attribution } = findOrigin(newer.value.source);
  const text = `${JSON.stringify({ attribution, ...found })}\n`;
  const written = await writeOne(options.out, text);
  tell('');
  if (written.ok) process.stdout.write(`${describeComparison(found)}: ${options.out}\n`);
  return written;
}

function describeComparison({ complexes, links, beacons, greatestBeaconShiftM }: NetworkComparison): string {
  const count = (list: readonly unknown[], word: string) =>
    `${list.length} ${word}${list.length === 1 ? '' : 's'}`;
  const most = beacons.length === 0 ? '' : `, at most ${greatestBeaconShiftM.toFixed(1)} m`;
  return `${count(complexes, 'tunnel')}, ${count(links, 'link')} and ${count(beacons, 'beacon')} differ${most}`;
}
