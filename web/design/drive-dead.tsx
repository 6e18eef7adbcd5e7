import type { BeaconId } from '../../shared/placement/beacon.ts';
import { driveWords as say } from '../drive-words.ts';
import { formatChainage, formatNumber } from '../ui/format.ts';
import type { DriveStripProps } from './drive-strip.tsx';

type DriveDeadProps = {
  /** Those of the route that is shown. */
  readonly beacons: DriveStripProps['beacons'];
  readonly dead: ReadonlySet<BeaconId>;
  /** The share that has failed in every drive, by the rules. */
  readonly failureShare: number;
  readonly onDead: (dead: ReadonlySet<BeaconId>) => void;
};

/** Which beacons are taken for dead in every drive; nothing of it is saved. */
export function DriveDead({ beacons, dead, failureShare, onDead }: DriveDeadProps) {
  const toggle = (id: BeaconId) => {
    const next = new Set(dead);
    if (!next.delete(id)) next.add(id);
    onDead(next);
  };
  return (
    <details className="drive-dead">
      <summary>{say.dead.title(dead.size)}</summary>
      <p className="muted">{say.dead.note(formatNumber(failureShare * 100, 1))}</p>
      {dead.size > 0 && (
        <button type="button" onClick={() => onDead(new Set())}>
          {say.dead.mendAll}
        </button>
      )}
      <ul>
        {beacons.map(({ id, atM, isDead }) => (
          <li key={id}>
            <label>
              <input type="checkbox" checked={isDead} onChange={() => toggle(id)} /> {formatChainage(atM)}
            </label>
          </li>
        ))}
      </ul>
    </details>
  );
}
