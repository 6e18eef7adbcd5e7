import { RefusalError } from '../outcome/refusal.ts';

/* Far above what the OpenStreetMap database accepts, so that only a damaged or hostile file is refused. */
export const MAX_WAY_NODES = 1_000_000;
export const MAX_MEMBERS = 200_000;
export const MAX_TAGS = 5_000;

/** Refuses 'input-damaged' when one element alone holds more than `max`, before it fills the memory. */
export function checkSize(count: number, max: number, what: string): void {
  if (count <= max) return;
  throw new RefusalError('input-damaged', { where: `more than ${max.toLocaleString('en')} ${what}` });
}
