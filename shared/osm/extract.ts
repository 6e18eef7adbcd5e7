import type { BBox } from '../geodesy/lon-lat.ts';

export type Tags = Readonly<Record<string, string>>;

export type OsmNode = {
  readonly id: number;
  readonly lon: number;
  readonly lat: number;
  readonly tags?: Tags;
};

export type OsmWay = { readonly id: number; readonly nodes: readonly number[]; readonly tags: Tags };

export type OsmMember = {
  readonly type: 'node' | 'way' | 'relation';
  readonly ref: number;
  readonly role: string;
};

export type OsmRelation = {
  readonly id: number;
  readonly members: readonly OsmMember[];
  readonly tags: Tags;
};

/**
 * One extract of OpenStreetMap, whatever it was read from. Elements are sorted by id and unique; degrees on
 * WGS84. Holds the roads, the nodes they use, and what the built-in map draws (`keep.ts` decides); a way may
 * name nodes that the extract does not hold (its edge).
 */
export type OsmExtract = {
  readonly source: {
    readonly format: 'overpass-json' | 'osm-xml' | 'osm-pbf';
    /** When the data was current, ISO 8601, if the file says so. */
    readonly timestamp?: string;
    /** The program that wrote the file, if it says so. */
    readonly generator?: string;
  };
  /** The area that the file claims to cover, if it says so. */
  readonly bbox?: BBox;
  readonly nodes: readonly OsmNode[];
  readonly ways: readonly OsmWay[];
  readonly relations: readonly OsmRelation[];
};
