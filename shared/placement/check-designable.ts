import type { Complex } from '../network/network.ts';
import type { Rules } from './rules.ts';

/** Why a complex is listed and not designed. */
export type NotDesigned = 'open-at-the-side' | 'restricted-access' | 'too-short';

/**
 * Whether a complex gets beacons: not where satellite signals are only weakened, not behind closed doors, and not
 * where the driver is through sooner than `rules.minimumOutageS` without a decision point underground.
 */
export function checkDesignable(complex: Complex, rules: Rules): NotDesigned | undefined {
  if (complex.kind !== 'tunnel') return 'open-at-the-side';
  if (complex.restricted) return 'restricted-access';
  if (complex.outageS < rules.minimumOutageS && complex.diverges.length === 0) return 'too-short';
  return undefined;
}
