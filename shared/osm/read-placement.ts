import type { Tags } from './extract.ts';

/** What tells where the lanes lie: their number where the data give it, and how the way is driven. */
export type Carriageway = {
  /** Undefined where the number of lanes is not in the data. */
  readonly lanes: number | undefined;
  readonly direction: 'forward' | 'both' | 'reversible';
  /** `oneway=-1`: the traffic runs against the way's own order. */
  readonly reversed: boolean;
  /** Asked on two-way roads only. */
  findDrivingSide(): DrivingSide | undefined;
};

export type DrivingSide = 'left' | 'right';

export type Placement = {
  /**
   * From the drawn line to the middle of the carriageway in lane widths, positive to the right of the traffic on a
   * one-way way, of the way's own order on a two-way one. Left out where it is 0 or not known.
   */
  readonly centreLanes?: number;
  /** `transition`: the line moves across the carriageway, so that nothing can be said. */
  readonly transition?: true;
  /** The value that was there and could not be used. */
  readonly unreadable?: string;
};

/**
 * Reads `placement`: which lane or edge of a lane the drawn line follows, lanes counted from the left as the driver
 * sees them. On a two-way road `placement:forward` and `placement:backward` count the lanes of their direction, and
 * `placement` alone says nothing. A value that does not fit the lanes, or needs what the data do not say, is
 * `unreadable`: never guessed. Source: OSM wiki, Key:placement (from memory).
 */
export function readPlacement(tags: Tags, way: Carriageway): Placement {
  const forward = tags['placement:forward'];
  const backward = tags['placement:backward'];
  const middle = tags['placement:both_ways'];
  const texts = [tags.placement, forward, backward, middle].filter((text) => text !== undefined);
  if (texts.length === 0) return {};
  if (texts.every((text) => text === 'transition')) return { transition: true };
  const centres =
    way.direction === 'forward'
      ? [centreOneWay(tags.placement ?? (way.reversed ? backward : forward), way.lanes)]
      : centresTwoWay(tags, way);
  const [centre, other = centre] = centres;
  if (centre === undefined || other !== centre) return { unreadable: texts.join(', ') };
  return centre === 0 ? {} : { centreLanes: centre };
}

function centreOneWay(text: string | undefined, lanes: number | undefined): number | undefined {
  const line = text === undefined || lanes === undefined ? undefined : parsePlacement(text, lanes);
  return line === undefined || lanes === undefined ? undefined : lanes / 2 - line;
}

/** What each of the two directions says about the middle: one value, or two that must be the same. */
function centresTwoWay(tags: Tags, { direction, findDrivingSide }: Carriageway): (number | undefined)[] {
  const lanes = splitLanes(tags);
  const known = [tags['placement:forward'], tags['placement:backward']];
  if (direction !== 'both' || lanes === undefined) return [undefined];
  if (tags.placement !== undefined || tags['placement:both_ways'] !== undefined) return [undefined];
  const drivingSide = findDrivingSide();
  if (drivingSide === undefined) return [undefined];
  const all = lanes.forward + lanes.backward + lanes.bothWays;
  // Lane widths from the left edge, seen in the way's own order, to where each direction begins to count.
  const isRight = drivingSide === 'right';
  const forwardAt = isRight ? all - lanes.forward : 0;
  const backwardAt = isRight ? lanes.backward : all;
  return known.flatMap((text, index) => {
    if (text === undefined) return [];
    const line = parsePlacement(text, index === 0 ? lanes.forward : lanes.backward);
    if (line === undefined) return [undefined];
    return [all / 2 - (index === 0 ? forwardAt + line : backwardAt - line)];
  });
}

/** Lanes by direction; half and half where the number is even and nothing else is said (OSM wiki, Key:lanes, from memory). */
function splitLanes(
  tags: Tags,
): { readonly forward: number; readonly backward: number; readonly bothWays: number } | undefined {
  const count = (key: string) => (/^\d{1,2}$/.test(tags[key] ?? '') ? Number(tags[key]) : undefined);
  const all = count('lanes');
  const bothWays = count('lanes:both_ways') ?? 0;
  const rest = all === undefined ? undefined : all - bothWays;
  const half = rest !== undefined && rest % 2 === 0 ? rest / 2 : undefined;
  const [one, other] = [count('lanes:forward'), count('lanes:backward')];
  const forward = one ?? (other !== undefined && rest !== undefined ? rest - other : half);
  const backward = other ?? (one !== undefined && rest !== undefined ? rest - one : half);
  if (forward === undefined || backward === undefined || forward < 0 || backward < 0) return undefined;
  if (rest !== undefined && forward + backward !== rest) return undefined;
  return { forward, backward, bothWays };
}

/** Where the line runs, in lane widths from the left edge of these lanes; undefined where they have no such lane. */
function parsePlacement(text: string, lanes: number): number | undefined {
  const [, edge, number] = /^(left_of|middle_of|right_of):(\d{1,2})$/.exec(text) ?? [];
  const lane = Number(number);
  if (edge === undefined || !(lane >= 1 && lane <= lanes)) return undefined;
  return lane - { left_of: 1, middle_of: 0.5, right_of: 0 }[edge as 'left_of' | 'middle_of' | 'right_of'];
}
