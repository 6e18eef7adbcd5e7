import { useMemo } from 'react';
import { boundsOf } from '../../../shared/geodesy/bounds-of.ts';
import type { LonLat } from '../../../shared/geodesy/lon-lat.ts';
import { reportWords } from '../../report-words.ts';
import type { TunnelRow } from '../../session/tunnel-row.ts';
import { words } from '../../words.ts';
import { DETAIL_SHAPES } from './detail-shapes.ts';
import { chooseBarM, type Fitted, fitMap, type Spot } from './fit-map.ts';
import { MapBackground } from './map-background.tsx';
import { MapDetails } from './map-details.tsx';
import { placeLabels } from './place-labels.ts';
import { STATUS_ORDER } from './sum-rows.ts';
import { toPath } from './to-path.ts';
import type { ReportData } from './use-report.ts';

const say = reportWords.map;
/** The drawing's own units: 180 mm of paper at 4 for each. */
const [WIDTH, HEIGHT] = [720, 470];
const MARGIN = 34;
const MARK = 5;
/** A digit's width and a number's height in the labels' type. */
const [DIGIT, LINE] = [6, 11];
const BAR_LONGEST = 140;

/** The tunnels on a map that is drawn as vectors: sharp on paper, by shape and line as well as colour. */
export function ReportMap({ data }: { readonly data: ReportData }) {
  const { rows, survey, map: layers } = data;
  const drawing = useMemo(() => draw(data), [data]);
  const { map, tunnels, labels, numbered } = drawing;
  return (
    <section aria-labelledby="report-map" className="report-map">
      <h2 id="report-map">{say.title}</h2>
      <figure>
        <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={say.label(survey.name)}>
          <rect className="map-land" width={WIDTH} height={HEIGHT} />
          {layers.context !== undefined && (
            <MapBackground layer={layers.context} map={map} size={[WIDTH, HEIGHT]} />
          )}
          {tunnels.map(({ row, path }) => (
            <g key={row.id} className={`map-tunnel ${row.status.replace(' ', '-')}`}>
              <path className="map-casing" d={path} />
              <path className="map-line" d={path} />
            </g>
          ))}
          {layers.details !== undefined && (
            <MapDetails details={layers.details} ids={new Set(rows.map(({ id }) => id))} map={map} />
          )}
          {tunnels.map(({ row, at }) => (
            <Mark key={row.id} status={row.status} at={at} />
          ))}
          {[...labels].map(([id, [x, y]]) => (
            <text key={id} className="map-rank" x={x} y={y + LINE / 3}>
              {numbered.get(id)}
            </text>
          ))}
          <ScaleBar metresPerUnit={map.metresPerUnit} />
          <North />
          <rect className="map-frame" x="0.5" y="0.5" width={WIDTH - 1} height={HEIGHT - 1} />
        </svg>
        <figcaption>
          <Legend hasDetails={layers.details !== undefined} />
          <p className="muted report-note">
            {say.flat} {numbered.size < rows.length && say.notRanked}{' '}
            {labels.size < numbered.size && say.unlabelled(numbered.size - labels.size)}{' '}
            {layers.context === undefined && say.noBackground} {survey.source?.attribution}.
          </p>
        </figcaption>
      </figure>
    </section>
  );
}

function draw({ rows, map: layers }: ReportData) {
  const wanted = new Map(rows.map((row) => [row.id, row]));
  const lines = layers.complexes.features.flatMap(({ id, geometry }) => {
    const row = wanted.get(String(id));
    return row === undefined || geometry.type !== 'MultiLineString'
      ? []
      : [{ row, lines: geometry.coordinates }];
  });
  const all = lines.flatMap((one) => one.lines) as unknown as readonly (readonly LonLat[])[];
  const map = fitMap(boundsOf(all), WIDTH, HEIGHT, MARGIN);
  const tunnels = lines.map(({ row, lines: parts }) => ({
    row,
    path: toPath(parts, map),
    at: findMiddle(parts, map),
  }));
  const numbered = new Map(
    rows.flatMap(({ id, rank }) => (rank === undefined ? [] : [[id, String(rank)] as const])),
  );
  const labels = placeLabels(
    // By rank: where there is no room for all, those that come first are told.
    rows.flatMap(({ id }) => {
      const at = tunnels.find(({ row }) => row.id === id)?.at;
      const number = numbered.get(id);
      return at === undefined || number === undefined
        ? []
        : [{ id, at, width: number.length * DIGIT + 3, height: LINE }];
    }),
    [WIDTH, HEIGHT],
    MARK,
  );
  return { map, tunnels, labels, numbered };
}

/** On the longest line, halfway: on the tunnel, where the middle of its bounds may not be. */
function findMiddle(lines: readonly (readonly (readonly number[])[])[], { toSpot }: Fitted): Spot {
  const longest = lines.reduce((a, b) => (spread(b) > spread(a) ? b : a));
  return toSpot(longest[Math.floor(longest.length / 2)] ?? [0, 0]);
}

function spread(line: readonly (readonly number[])[]): number {
  const [a, b] = [line[0] ?? [], line.at(-1) ?? []];
  return Math.hypot((a[0] ?? 0) - (b[0] ?? 0), (a[1] ?? 0) - (b[1] ?? 0));
}

/** The same shapes as in the tables. */
function Mark({ status, at: [x, y] }: { readonly status: TunnelRow['status']; readonly at: Spot }) {
  return (
    <g className="map-mark" transform={`translate(${x.toFixed(1)} ${y.toFixed(1)})`}>
      <circle r={MARK - 0.5} />
      {status === 'none' && <path d="M-3 3 L3 -3" />}
      {status === 'partly equipped' && (
        <path className="fill" d={`M0 -${MARK - 0.5} A4.5 4.5 0 0 0 0 ${MARK - 0.5} Z`} />
      )}
      {status === 'equipped' && <circle className="fill" r={MARK - 0.5} />}
    </g>
  );
}

function ScaleBar({ metresPerUnit }: Pick<Fitted, 'metresPerUnit'>) {
  const barM = chooseBarM(BAR_LONGEST * metresPerUnit);
  const length = barM / metresPerUnit;
  return (
    <g className="map-scale" transform={`translate(14 ${HEIGHT - 14})`}>
      <rect className="map-plate" x="-6" y="-20" width={length + 12} height="26" />
      <path d={`M0 -5 V0 H${length.toFixed(1)} V-5 M${(length / 2).toFixed(1)} -3 V0`} />
      <text x={length / 2} y="-8">
        {barM >= 1000 ? `${barM / 1000} km` : `${barM} m`}
      </text>
    </g>
  );
}

function North() {
  return (
    <g className="map-north" transform={`translate(${WIDTH - 22} 36)`}>
      <rect className="map-plate" x="-12" y="-28" width="24" height="42" />
      <path className="fill" d="M0 -24 L6 -4 L0 -8 Z" />
      <path d="M0 -24 L6 -4 L0 -8 L-6 -4 Z" />
      <text y="9">{say.north}</text>
    </g>
  );
}

function Legend({ hasDetails }: { readonly hasDetails: boolean }) {
  return (
    <div className="map-legend">
      <strong>{say.legend}</strong>
      {STATUS_ORDER.map((status) => (
        <span key={status}>
          <svg viewBox="0 0 34 12" width="34" height="12" aria-hidden="true">
            <g className={`map-tunnel ${status.replace(' ', '-')}`}>
              <path className="map-line" d="M1 6 H33" />
            </g>
            <Mark status={status} at={[17, 6]} />
          </svg>
          {words.status[status]}
        </span>
      ))}
      {hasDetails &&
        (['beacon', 'portal', 'decision'] as const).map((kind) => (
          <span key={kind}>
            <svg viewBox="-7 -6 14 12" width="14" height="12" aria-hidden="true">
              <path className={`map-${kind}`} d={DETAIL_SHAPES[kind]} />
            </svg>
            {say[kind]}
          </span>
        ))}
    </div>
  );
}
