import type { Scale } from './chart-scale.ts';
import type { RouteBeacon } from './list-route-beacons.ts';

export type DriveStripProps = {
  readonly x: Scale;
  /** Pixels from the top of the drawing. */
  readonly y: number;
  readonly lengthM: number;
  readonly beacons: readonly (RouteBeacon & { readonly isDead: boolean })[];
};

/** The route as a line from portal to portal with its beacons; those that are dead are crosses. */
export function DriveStrip({ x, y, lengthM, beacons }: DriveStripProps) {
  return (
    <g>
      <path className="bore" d={`M${x.toPx(0)} ${y} H${x.toPx(lengthM)}`} />
      {[0, lengthM].map((atM) => (
        <path key={atM} className="portal" d={portalPath(x.toPx(atM), y)} />
      ))}
      {beacons.map(({ id, atM, isDead }) => (
        <path
          key={id}
          className={isDead ? 'dead-beacon' : 'live-beacon'}
          d={beaconPath(x.toPx(atM), y, isDead)}
        />
      ))}
    </g>
  );
}

/** An arch. */
export function portalPath(px: number, y: number): string {
  return `M${px - 4} ${y + 6} V${y - 2} A4 4 0 0 1 ${px + 4} ${y - 2} V${y + 6} Z`;
}

/** A diamond, or a cross. */
export function beaconPath(px: number, y: number, isDead: boolean): string {
  return isDead ? `M${px - 3.5} ${y - 3.5} l7 7 m-7 0 l7 -7` : `M${px} ${y - 4} l3 4 l-3 4 l-3 -4 Z`;
}
