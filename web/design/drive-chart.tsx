import { type PointerEvent, useId } from 'react';
import type { DecisionDrive, ErrorBand, RouteDrive } from '../../shared/drive/drive.ts';
import { driveWords as say } from '../drive-words.ts';
import { formatChainage, formatNumber } from '../ui/format.ts';
import { findErrorSpan, findNearest, groupMarks, listTicks, makeScale, type Scale } from './chart-scale.ts';
import { DriveStrip, type DriveStripProps } from './drive-strip.tsx';
import { useWidth } from './use-width.ts';

/** The pixels of the drawing; its width is that of the panel. */
const [LEFT, RIGHT_MARGIN] = [40, 22];
const BOTH = { top: 30, bottom: 180 };
const STRIP_Y = 194;
const DETAIL = { top: 226, bottom: 316 };
const BELOW = 37;

type DriveChartProps = {
  readonly route: RouteDrive;
  /** Where the drawing ends, metres from the entry portal: at the exit or a decision past it. */
  readonly endM: number;
  readonly decisions: readonly DecisionDrive[];
  readonly beacons: DriveStripProps['beacons'];
  /** Index of the place that is read out. */
  readonly place: number;
  readonly onPlace: (place: number) => void;
};

/** The position error along a route without beacons and with them; below it the latter alone, at a scale of its own. */
export function DriveChart({ route, endM, decisions, beacons, place, onPlace }: DriveChartProps) {
  const id = useId();
  const [ref, width] = useWidth<SVGSVGElement>();
  const { atM, errorM, lengthM } = route;
  const isDesigned = beacons.length > 0;
  const bottom = isDesigned ? DETAIL.bottom : STRIP_Y + 6;
  const right = Math.max(LEFT + 1, width - RIGHT_MARGIN);
  const x = makeScale([0, endM], [LEFT, right]);
  const point = (event: PointerEvent<SVGSVGElement>) => {
    const { left } = event.currentTarget.getBoundingClientRect();
    onPlace(findNearest(atM, x.toValue(event.clientX - left)));
  };
  const upright = (px: number) => `M${px} ${BOTH.top} V${bottom}`;
  const frame = { x, right, route };
  return (
    <svg
      ref={ref}
      className="drive-chart"
      role="img"
      aria-label={summarise(route, decisions.length, beacons.length)}
      height={bottom + BELOW}
      onPointerMove={point}
      onPointerDown={point}
    >
      <pattern id={`${id}hatch`} width="6" height="6" patternUnits="userSpaceOnUse">
        <path className="hatch" d="M0 6 L6 0" />
      </pattern>
      {endM > lengthM && (
        <rect
          className="open-air"
          x={x.toPx(lengthM)}
          y={BOTH.top}
          width={right - x.toPx(lengthM)}
          height={bottom - BOTH.top}
        />
      )}
      <Panel {...frame} box={BOTH} title={say.yAxis} isWithOnly={false}>
        {(y) => (
          <>
            <path d={outline(atM, errorM.without, x, y)} fill={`url(#${id}hatch)`} />
            <path className="median without" d={polyline(atM, errorM.without.p50, x, y)} />
            {isDesigned && <WithBand {...frame} y={y} />}
          </>
        )}
      </Panel>
      {isDesigned && (
        <Panel {...frame} box={DETAIL} title={say.enlarged} isWithOnly>
          {(y) => <WithBand {...frame} y={y} />}
        </Panel>
      )}
      {decisions.map(({ osmNode, linkId, atM: decisionM }) => (
        <path key={`${osmNode} ${linkId}`} className="decision" d={upright(x.toPx(decisionM))} />
      ))}
      {groupMarks(decisions.map((decision) => x.toPx(decision.atM))).map(({ px, label }) => (
        <text key={label} className="decision-number" x={px} y={BOTH.top - 4} textAnchor="middle">
          {label}
        </text>
      ))}
      <DriveStrip x={x} y={STRIP_Y} lengthM={lengthM} beacons={beacons} />
      <XAxis {...frame} endM={endM} y={bottom} />
      <path className="place" d={upright(x.toPx(atM[place] ?? 0))} />
    </svg>
  );
}

type Frame = { readonly x: Scale; readonly right: number; readonly route: RouteDrive };

type PanelProps = Frame & {
  readonly box: { readonly top: number; readonly bottom: number };
  readonly title: string;
  readonly isWithOnly: boolean;
  readonly children: (y: Scale) => React.ReactNode;
};

/** One scale of errors with what is drawn to it. */
function Panel({ box, title, isWithOnly, right, route, children }: PanelProps) {
  const span = findErrorSpan(route, isWithOnly);
  const y = makeScale(span, [box.bottom, box.top]);
  return (
    <g>
      <text x={0} y={isWithOnly ? box.top - 8 : 11}>
        {title}
      </text>
      {listTicks(span, isWithOnly ? 5 : 7).map((value) => (
        <g key={value}>
          <path className={value === 0 ? 'zero' : 'grid'} d={`M${LEFT} ${y.toPx(value)} H${right}`} />
          <text x={LEFT - 4} y={y.toPx(value) + 4} textAnchor="end">
            {formatNumber(value, value % 1 === 0 ? 0 : 1)}
          </text>
        </g>
      ))}
      {children(y)}
    </g>
  );
}

function WithBand({ x, y, route: { atM, errorM } }: Frame & { readonly y: Scale }) {
  return (
    <>
      <path className="band-with" d={outline(atM, errorM.with, x, y)} />
      <path className="median with" d={polyline(atM, errorM.with.p50, x, y)} />
    </>
  );
}

function XAxis({ x, right, endM, y }: Frame & { readonly endM: number; readonly y: number }) {
  return (
    <g>
      {listTicks([0, endM], right > 450 ? 7 : 4).map((value) => (
        <text key={value} x={x.toPx(value)} y={y + 17} textAnchor="middle">
          {formatChainage(value)}
        </text>
      ))}
      <text x={right} y={y + 32} textAnchor="end">
        {say.xAxis}
      </text>
    </g>
  );
}

function polyline(atM: readonly number[], values: readonly number[], x: Scale, y: Scale): string {
  return `M${atM.map((at, i) => `${x.toPx(at).toFixed(1)} ${y.toPx(values[i] ?? 0).toFixed(1)}`).join(' L')}`;
}

/** The band from 5 to 95 % as one closed line. */
function outline(atM: readonly number[], { p5, p95 }: ErrorBand, x: Scale, y: Scale): string {
  const back = polyline(atM.toReversed(), p5.toReversed(), x, y);
  return `${polyline(atM, p95, x, y)} L${back.slice(1)} Z`;
}

function summarise({ lengthM, errorM }: RouteDrive, decisions: number, beacons: number): string {
  const atExit = ({ p5, p95 }: ErrorBand) =>
    say.between(formatNumber(p5.at(-1) ?? 0), formatNumber(p95.at(-1) ?? 0));
  return say.summary(formatNumber(lengthM), atExit(errorM.without), atExit(errorM.with), decisions, beacons);
}
