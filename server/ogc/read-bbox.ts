import type { BBox } from '../../shared/geodesy/lon-lat.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';

const NUMBER = /^[+-]?(\d+(\.\d*)?|\.\d+)(e[+-]?\d{1,3})?$/i;

/**
 * Reads `bbox`: 4 numbers, or 6 with heights, which say nothing of features without height. Where west is greater than
 * east it goes over the antimeridian and is two boxes. Refused as `parameter-invalid`.
 */
export function readBbox(text: string): Result<readonly BBox[]> {
  const parts = text.split(',').map((part) => part.trim());
  if (parts.length !== 4 && parts.length !== 6) return invalid('4 or 6 numbers are needed');
  if (!parts.every((part) => NUMBER.test(part)))
    return invalid('it must be numbers with commas between them');
  const numbers = parts.map(Number);
  const at = (index: number) => numbers[index] as number;
  const half = numbers.length / 2;
  const [west, south, east, north] = [at(0), at(1), at(half), at(half + 1)];
  if (half === 3 && at(2) > at(5)) return invalid('the lower height comes first');
  if (south > north) return invalid('south must not be greater than north');
  if (Math.max(Math.abs(south), Math.abs(north)) > 90) return invalid('latitudes go from -90 to 90');
  if (Math.max(Math.abs(west), Math.abs(east)) > 180) return invalid('longitudes go from -180 to 180');
  if (west <= east) return done([[west, south, east, north]]);
  return done([
    [west, south, 180, north],
    [-180, south, east, north],
  ]);
}

function invalid(reason: string) {
  return refused(refusal('parameter-invalid', { name: 'bbox', reason }));
}
