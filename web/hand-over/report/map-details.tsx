import type { Feature } from 'geojson';
import { DETAIL_SHAPES } from './detail-shapes.ts';
import type { Fitted } from './fit-map.ts';
import type { ReportLayers } from './use-report.ts';

type MapDetailsProps = {
  readonly details: NonNullable<ReportLayers['details']>;
  readonly ids: ReadonlySet<string>;
  readonly map: Fitted;
};

/** Beacons, portals and decision points of the tunnels that are printed. */
export function MapDetails({ details, ids, map }: MapDetailsProps) {
  const kinds = [
    ['beacon', details.beacons],
    ['portal', details.portals],
    ['decision', details.decisions],
  ] as const;
  return kinds.map(([kind, layer]) => (
    <g key={kind}>
      {layer.features
        .filter(({ properties }) => ids.has(String(properties?.complex)))
        .map((feature) => (
          <path
            key={String(feature.id)}
            className={`map-${kind}`}
            transform={toTransform(feature, map)}
            d={DETAIL_SHAPES[kind]}
          />
        ))}
    </g>
  ));
}

function toTransform({ geometry }: Feature, { toSpot }: Fitted): string {
  const [x, y] = toSpot(geometry.type === 'Point' ? geometry.coordinates : []);
  return `translate(${x.toFixed(1)} ${y.toFixed(1)})`;
}
