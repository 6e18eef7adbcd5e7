import { type PointerEvent, useState } from 'react';
import type { ProgrammeView } from '../../shared/wire/ranking.ts';
import { findNearest, listTicks, makeScale, type Scale } from '../design/chart-scale.ts';
import { rankingWords } from '../ranking-words.ts';
import { formatNumber, formatRough, formatShort } from '../ui/format.ts';
import { CurveTable } from './curve-table.tsx';

const say = rankingWords.programme.curve;
/** The drawing's own units; it is scaled to the width of the panel. */
const [WIDTH, HEIGHT] = [480, 230];
const [LEFT, RIGHT, TOP, BOTTOM] = [48, 464, 26, 190];

type Curve = ProgrammeView['curve'];
type TradeOffChartProps = { readonly curve: Curve; readonly budgetPerYear: number };
type Choosing = TradeOffChartProps & {
  /** Plans anew with the budget of a point. */
  readonly onBudget: (budgetPerYear: number) => void;
};

/** What each budget spares: a chart that is read by pointer or keyboard, and the same as a table. */
export function TradeOffChart({ curve, budgetPerYear, onBudget }: Choosing) {
  const here = curve.findIndex((point) => point.budgetPerYear === budgetPerYear);
  const [place, setPlace] = useState(Math.max(0, here));
  const most = Math.max(0, ...curve.map((point) => point.avoidedDrivers));
  const dearest = Math.max(0, ...curve.map((point) => point.budgetPerYear));
  // A shorter curve may have come since.
  const index = Math.min(place, curve.length - 1);
  const point = curve[index];
  const isFlat = most === 0 || dearest === 0 || point === undefined;
  return (
    <section aria-label={say.title} data-testid="trade-off">
      <h3>{say.title}</h3>
      {isFlat ? (
        <p>{say.flat}</p>
      ) : (
        <>
          <Drawing
            curve={curve}
            budgetPerYear={budgetPerYear}
            x={makeScale([0, dearest], [LEFT, RIGHT])}
            y={makeScale([0, most], [BOTTOM, TOP])}
            place={index}
            onPlace={setPlace}
          />
          <input
            className="trade-off-place"
            type="range"
            aria-label={say.point}
            aria-valuetext={describePoint(point)}
            min={0}
            max={curve.length - 1}
            value={index}
            onChange={({ target }) => setPlace(Number(target.value))}
          />
          <p className="trade-off-readout">
            <span data-testid="trade-off-readout">{describePoint(point)}</span>
            {point.budgetPerYear !== budgetPerYear && (
              <button type="button" onClick={() => onBudget(point.budgetPerYear)}>
                {say.use}
              </button>
            )}
          </p>
          <CurveTable curve={curve} />
        </>
      )}
    </section>
  );
}

type Scales = { readonly x: Scale; readonly y: Scale };

type DrawingProps = TradeOffChartProps &
  Scales & {
    readonly place: number;
    readonly onPlace: (place: number) => void;
  };

function Drawing({ curve, budgetPerYear, x, y, place, onPlace }: DrawingProps) {
  const point = (event: PointerEvent<SVGSVGElement>) => {
    const box = event.currentTarget.getBoundingClientRect();
    const px = ((event.clientX - box.left) / box.width) * WIDTH;
    onPlace(
      findNearest(
        curve.map((one) => one.budgetPerYear),
        x.toValue(px),
      ),
    );
  };
  const herePx = x.toPx(budgetPerYear);
  return (
    <svg
      className="trade-off"
      role="img"
      aria-label={summarise(curve)}
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      onPointerMove={point}
      onPointerDown={point}
    >
      <Axes curve={curve} x={x} y={y} />
      <path className="budget" d={`M${herePx} ${TOP} V${BOTTOM}`} />
      <text className="budget-name" x={herePx} y={TOP - 6} textAnchor={herePx > WIDTH / 2 ? 'end' : 'start'}>
        {say.here}
      </text>
      <Crosshair point={curve[place]} x={x} y={y} />
      <path className="curve" d={toSteps(curve, x, y)} />
      {curve.map((one, i) => (
        <circle
          key={one.budgetPerYear}
          className={`${one.isProven ? 'proven' : 'unproven'} ${i === place ? 'is-place' : ''}`}
          cx={x.toPx(one.budgetPerYear)}
          cy={y.toPx(one.avoidedDrivers)}
          r={i === place ? 5 : 3}
        />
      ))}
    </svg>
  );
}

/** From the chosen point to both axes, with its values. */
function Crosshair({ point, x, y }: { readonly point: Curve[number] | undefined } & Scales) {
  if (point === undefined) return null;
  const [px, py] = [x.toPx(point.budgetPerYear), y.toPx(point.avoidedDrivers)];
  const isRight = px > WIDTH / 2;
  return (
    <g aria-hidden>
      <path className="crosshair" d={`M${LEFT} ${py} H${px} V${BOTTOM}`} />
      {/* Below the curve there is room: it never falls. */}
      <text
        className="crosshair-value"
        x={isRight ? px - 8 : px + 8}
        y={py + 18}
        textAnchor={isRight ? 'end' : 'start'}
      >
        {say.value(formatShort(point.avoidedDrivers), formatShort(point.budgetPerYear))}
      </text>
    </g>
  );
}

function Axes({ curve, x, y }: { readonly curve: Curve; readonly x: Scale; readonly y: Scale }) {
  const most = Math.max(...curve.map((one) => one.avoidedDrivers));
  const dearest = Math.max(...curve.map((one) => one.budgetPerYear));
  return (
    <g aria-hidden>
      {listTicks([0, most], 4).map((value) => (
        <g key={value}>
          <path className="grid-line" d={`M${LEFT} ${y.toPx(value)} H${RIGHT}`} />
          <text x={LEFT - 5} y={y.toPx(value) + 4} textAnchor="end">
            {formatShort(value)}
          </text>
        </g>
      ))}
      {listTicks([0, dearest], 4).map((value) => (
        <text key={value} x={x.toPx(value)} y={BOTTOM + 15} textAnchor="middle">
          {formatShort(value)}
        </text>
      ))}
      <text x={RIGHT} y={HEIGHT - 8} textAnchor="end">
        {say.xAxis}
      </text>
      <text x={0} y={11}>
        {say.yAxis}
      </text>
    </g>
  );
}

/** Between two budgets at least what the smaller one buys is bought. */
function toSteps(curve: Curve, x: Scale, y: Scale): string {
  return curve
    .map(({ budgetPerYear, avoidedDrivers }, i) => {
      const [px, py] = [x.toPx(budgetPerYear).toFixed(1), y.toPx(avoidedDrivers).toFixed(1)];
      return i === 0 ? `M${px} ${py}` : `H${px} V${py}`;
    })
    .join(' ');
}

function describePoint({
  budgetPerYear,
  avoidedDrivers,
  tunnelCount,
  cost,
  isProven,
}: Curve[number]): string {
  const drivers = formatRough(avoidedDrivers);
  return say.readout(
    formatNumber(budgetPerYear),
    isProven ? drivers : `${say.unproven} ${drivers}`,
    tunnelCount,
    formatNumber(cost),
  );
}

function summarise(curve: Curve): string {
  const [first, last] = [curve[0], curve.at(-1)];
  if (first === undefined || last === undefined) return say.flat;
  return say.summary(
    formatNumber(first.budgetPerYear),
    formatRough(first.avoidedDrivers),
    formatNumber(last.budgetPerYear),
    formatRough(last.avoidedDrivers),
  );
}
