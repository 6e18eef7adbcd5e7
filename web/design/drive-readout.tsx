import type { ErrorBand, RouteDrive } from '../../shared/drive/drive.ts';
import { driveWords as say } from '../drive-words.ts';
import { formatChainage, formatNumber } from '../ui/format.ts';

type DriveReadoutProps = {
  readonly route: RouteDrive;
  /** How much of the plot's width the route takes. */
  readonly plotShare: number;
  readonly isDesigned: boolean;
  readonly place: number;
  readonly onPlace: (place: number) => void;
};

/** The error at one place of a route in figures; the place is chosen on the chart or by arrow keys. */
export function DriveReadout({ route, plotShare, isDesigned, place, onPlace }: DriveReadoutProps) {
  const chainage = formatChainage(route.atM[place] ?? 0);
  const which = isDesigned ? (['without', 'with'] as const) : (['without'] as const);
  const figures = which.map((one) => ({ one, text: describe(route.errorM[one], place) }));
  return (
    <>
      <input
        type="range"
        className="drive-place"
        style={{ width: `calc((100% - 62px) * ${plotShare} + 16px)` }}
        aria-label={say.place}
        aria-valuetext={[chainage, ...figures.map(({ one, text }) => `${say.readout[one]} ${text}`)].join(
          ', ',
        )}
        min={0}
        max={route.atM.length - 1}
        value={place}
        onChange={(event) => onPlace(Number(event.target.value))}
      />
      <strong>{say.readout.at(chainage)}</strong>
      <dl className="drive-readout" data-testid="drive-readout">
        {figures.map(({ one, text }) => (
          <div key={one}>
            <dt>{say.readout[one]}</dt>
            <dd>{text}</dd>
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
