import { moveBy } from '../../shared/geodesy/segment.ts';
import type { OsmExtract, OsmMember, Tags } from '../../shared/osm/extract.ts';

/** A position in metres east and north of the place's middle (46° N 20° W, open sea). */
type Metres = readonly [eastM: number, northM: number];

export type PlaceDrawing = {
  /** Node id → position. */
  readonly nodes: Readonly<Record<number, Metres>>;
  readonly ways: readonly { readonly id: number; readonly nodes: readonly number[]; readonly tags: Tags }[];
  readonly relations?: readonly {
    readonly id: number;
    readonly members: readonly OsmMember[];
    readonly tags: Tags;
  }[];
};

/** Makes an extract of a small invented place that is drawn in metres. */
export function drawPlace({ nodes, ways, relations = [] }: PlaceDrawing): OsmExtract {
  return {
    source: { format: 'osm-xml' },
    nodes: Object.entries(nodes)
      .map(([id, [eastM, northM]]) => {
        const [lon, lat] = moveBy([-20, 46], eastM, northM);
        return { id: Number(id), lon, lat };
      })
      .sort((a, b) => a.id - b.id),
    ways: [...ways].sort((a, b) => a.id - b.id),
    relations,
  };
}
