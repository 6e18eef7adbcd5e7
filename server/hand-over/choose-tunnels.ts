import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import type { Designed } from '../../shared/pipeline/to-survey-layers.ts';

/** The tunnels that were named, or all; refused as `hand-over-tunnel` where one of them is not in the survey. */
export function chooseTunnels(
  designed: readonly Designed[],
  tunnels: ReadonlySet<string> | undefined,
): Result<readonly Designed[]> {
  if (tunnels === undefined) return done(designed);
  const chosen = designed.filter(({ network }) => tunnels.has(network.complex.id));
  if (chosen.length === tunnels.size) return done(chosen);
  const known = new Set<string>(chosen.map(({ network }) => network.complex.id));
  const id = [...tunnels].find((one) => !known.has(one)) ?? '';
  return refused(refusal('hand-over-tunnel', { id }));
}
