import type { Comparison } from '../../shared/wire/comparison.ts';
import type { ExtractSource } from '../store/store.ts';

/** An extract as a comparison names it. */
export function nameSource({ name, timestamp }: ExtractSource): Comparison['before'] {
  return timestamp === undefined ? { name } : { name, timestamp };
}
