import type { ErrorBand, RouteDrive } from '../../shared/drive/drive.ts';
import { driveWords as say } from '../drive-words.ts';
import { formatChainage, formatNumber } from '../ui/format.ts';

type DriveReadoutProps = {
  readonly route: RouteDrive;
  readonly place: number;
  readonly onPlace: (place: number) => void;
};

/** The error at one place of a route in figures; the place is chosen on the chart or by arrow keys. */
export function DriveReadout({ route, place, onPlace }: DriveReadoutProps) {
  const chainage = formatChainage(route.atM[place] ?? 0);
  return (
    <>
      <input
        type="range"
        className="drive-place"
        aria-label={say.place}
        aria-valuetext={chainage}
        min={0}
        max={route.atM.length - 1}
        value={place}
        onChange={(event) => onPlace(Number(event.target.value))}
      />
      <strong>{say.readout.at(chainage)}</strong>
      <dl className="drive-readout" data-testid="drive-readout">
        {(['without', 'with'] as const).map((which) => (
          <div key={which} style={{ display: 'contents' }}>
            <dt>{say.readout[which]}</dt>
            <dd>{describe(route.errorM[which], place)}</dd>
          </div>
        ))}
      </dl>
    </>
  );
}

function describe({ p5, p50, p95 }: ErrorBand, place: number): string {
  const at = (values: readonly number[]) => formatNumber(values[place] ?? 0, 1);
  return say.readout.value(at(p50), at(p5), at(p95));
}
