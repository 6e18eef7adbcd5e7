import { type PointerEvent, useId } from 'react';
import type { DecisionDrive, RouteDrive } from '../../shared/drive/drive.ts';
import { driveWords as say } from '../drive-words.ts';
import { formatChainage, formatNumber } from '../ui/format.ts';
import { findErrorSpan, findNearest, listTicks, makeScale, type Scale } from './chart-scale.ts';

/** The drawing's own units; it is scaled to the width of the panel. */
const [WIDTH, HEIGHT] = [380, 220];
const [LEFT, RIGHT, TOP, BOTTOM] = [42, 372, 16, 184];

type DriveChartProps = {
  readonly route: RouteDrive;
  readonly decisions: readonly DecisionDrive[];
  /** Fit to the error with beacons; the one without is cut off. */
  readonly isEnlarged: boolean;
  /** Index of the place that is read out. */
  readonly place: number;
  readonly onPlace: (place: number) => void;
};

/** The position error along a route, without beacons and with them. */
export function DriveChart({ route, decisions, isEnlarged, place, onPlace }: DriveChartProps) {
  const id = useId();
  const { atM, errorM, lengthM } = route;
  const endM = Math.max(lengthM, ...decisions.map((decision) => decision.atM));
  const x = makeScale([0, endM], [LEFT, RIGHT]);
  const y = makeScale(findErrorSpan(route, isEnlarged), [BOTTOM, TOP]);
  const point = (event: PointerEvent<SVGSVGElement>) => {
    const box = event.currentTarget.getBoundingClientRect();
    const px = ((event.clientX - box.left) / box.width) * WIDTH;
    onPlace(findNearest(atM, x.toValue(px)));
  };
  const placePx = x.toPx(atM[place] ?? 0);
  return (
    <svg
      className="drive-chart"
      role="img"
      aria-label={summarise(route, decisions.length)}
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      onPointerMove={point}
      onPointerDown={point}
    >
      <defs>
        <clipPath id={`${id}clip`}>
          <rect x={LEFT} y={TOP} width={RIGHT - LEFT} height={BOTTOM - TOP} />
        </clipPath>
        <pattern id={`${id}hatch`} width="6" height="6" patternUnits="userSpaceOnUse">
          <path className="hatch" d="M0 6 L6 0" />
        </pattern>
      </defs>
      <Axes x={x} y={y} endM={endM} isEnlarged={isEnlarged} route={route} />
      <g clipPath={`url(#${id}clip)`}>
        <path d={outline(atM, errorM.without, x, y)} fill={`url(#${id}hatch)`} />
        <path className="median without" d={polyline(atM, errorM.without.p50, x, y)} />
        <path className="band-with" d={outline(atM, errorM.with, x, y)} />
        <path className="median with" d={polyline(atM, errorM.with.p50, x, y)} />
      </g>
      {endM > lengthM && <Upright className="exit" px={x.toPx(lengthM)} />}
      {decisions.map((decision, i) => (
        <g key={`${decision.osmNode} ${decision.linkId}`}>
          <Upright className="decision" px={x.toPx(decision.atM)} />
          <text className="decision-number" x={x.toPx(decision.atM)} y={TOP - 4} textAnchor="middle">
            {i + 1}
          </text>
        </g>
      ))}
      <Upright className="place" px={placePx} />
    </svg>
  );
}

/** The marks of the chart in words, each with its line. */
export function DriveLegend() {
  return (
    <ul className="drive-legend">
      {(['without', 'with', 'decision'] as const).map((name) => (
        <li key={name}>
          <svg
            className="drive-chart"
            style={{ display: 'inline', width: 28 }}
            viewBox="0 0 28 12"
            aria-hidden
          >
            {name === 'with' && <rect className="band-with" width="28" height="12" />}
            {name === 'without' && <path className="hatch" d="M2 12 L14 0 M10 12 L22 0 M18 12 L28 2" />}
            <path className={name === 'decision' ? name : `median ${name}`} d={LEGEND_LINES[name]} />
          </svg>{' '}
          {say.legend[name]}
        </li>
      ))}
    </ul>
  );
}

const LEGEND_LINES = { without: 'M0 6 H28', with: 'M0 6 H28', decision: 'M14 0 V12' };

type AxesProps = {
  readonly x: Scale;
  readonly y: Scale;
  readonly endM: number;
  readonly isEnlarged: boolean;
  readonly route: RouteDrive;
};

function Axes({ x, y, endM, isEnlarged, route }: AxesProps) {
  const across = listTicks([0, endM], 4);
  const up = listTicks(findErrorSpan(route, isEnlarged), 5);
  return (
    <g aria-hidden>
      {up.map((value) => (
        <g key={value}>
          <path className={value === 0 ? 'zero' : 'grid'} d={`M${LEFT} ${y.toPx(value)} H${RIGHT}`} />
          <text x={LEFT - 4} y={y.toPx(value) + 4} textAnchor="end">
            {formatNumber(value, value % 1 === 0 ? 0 : 1)}
          </text>
        </g>
      ))}
      {across.map((value) => (
        <text key={value} x={x.toPx(value)} y={BOTTOM + 14} textAnchor="middle">
          {formatChainage(value)}
        </text>
      ))}
      <text x={RIGHT} y={HEIGHT - 6} textAnchor="end">
        {say.xAxis}
      </text>
      <text x={0} y={10}>
        {say.yAxis}
      </text>
    </g>
  );
}

function Upright({ className, px }: { readonly className: string; readonly px: number }) {
  return <path className={className} d={`M${px} ${TOP} V${BOTTOM}`} />;
}

function polyline(atM: readonly number[], values: readonly number[], x: Scale, y: Scale): string {
  return `M${atM.map((at, i) => `${x.toPx(at).toFixed(1)} ${y.toPx(values[i] ?? 0).toFixed(1)}`).join(' L')}`;
}

/** The band from 5 to 95 % as one closed line. */
function outline(atM: readonly number[], { p5, p95 }: RouteDrive['errorM']['with'], x: Scale, y: Scale) {
  const back = polyline(atM.toReversed(), p5.toReversed(), x, y);
  return `${polyline(atM, p95, x, y)} L${back.slice(1)} Z`;
}

function summarise({ lengthM, errorM }: RouteDrive, decisions: number): string {
  const atExit = ({ p5, p95 }: RouteDrive['errorM']['with']) =>
    say.between(formatNumber(p5.at(-1) ?? 0), formatNumber(p95.at(-1) ?? 0));
  return say.summary(formatNumber(lengthM), atExit(errorM.without), atExit(errorM.with), decisions);
}
