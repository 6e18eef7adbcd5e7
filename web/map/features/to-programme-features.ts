import type { Feature, FeatureCollection } from 'geojson';
import { OUT_ICON, yearIcon } from '../icons/programme-icons.ts';
import type { ProgrammeYears } from '../map-types.ts';
import { toneOf } from '../programme-colours.ts';
import { toComplexLabels } from './to-complex-labels.ts';

/**
 * A programme for the map: of each tunnel that it equips the bores, with the colour of its year, and a point with the
 * year's icon; of what it leaves out only a point.
 */
export function toProgrammeFeatures(
  complexes: FeatureCollection,
  { years, leftOut }: ProgrammeYears,
): FeatureCollection {
  const yearOf = new Map(years.flatMap(({ year, ids }) => ids.map((id) => [id, year] as const)));
  const out = new Set(leftOut);
  const isTold = (id: string) => yearOf.has(id) || out.has(id);
  const told = complexes.features.filter(({ id }) => isTold(String(id)));
  const bores = told.flatMap(({ id, geometry }): Feature[] => {
    const year = yearOf.get(String(id));
    return year === undefined
      ? []
      : [{ type: 'Feature', geometry, properties: { year, tone: toneOf(year) } }];
  });
  const points = toComplexLabels({ type: 'FeatureCollection', features: told }).features.flatMap(
    ({ geometry, properties }): Feature[] => {
      if (geometry.type !== 'Point') return [];
      const { complex, lengthM } = properties as { complex: string; lengthM: number };
      const year = yearOf.get(complex);
      const icon = year === undefined ? OUT_ICON : yearIcon(year);
      const drawn = { complex, icon, ...(year === undefined ? {} : { year }), lengthM };
      return [{ type: 'Feature', geometry, properties: drawn }];
    },
  );
  return { type: 'FeatureCollection', features: [...bores, ...points] };
}
