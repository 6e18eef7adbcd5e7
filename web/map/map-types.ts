import type { FeatureCollection } from 'geojson';
import type { LineAddress } from '../../shared/alignment/line-address.ts';
import type { BBox, LonLat } from '../../shared/geodesy/lon-lat.ts';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import type { Anchor, Beacon, BeaconId } from '../../shared/placement/beacon.ts';
import type { Area } from '../../shared/wire/survey.ts';

/** Of which survey the tiles are; another `revision` asks for newer ones. */
export type SurveyTiles = { readonly surveyId: string; readonly revision: number };

/** What is not in a survey's tiles, as the server gives it; new objects only where something changed. */
export type SurveyLayers = {
  readonly context: FeatureCollection;
  readonly complexes: FeatureCollection;
  readonly findings: FeatureCollection;
};

/** The tunnel that is being designed: drawn over the base, which hides its own copy of these beacons. */
export type DesignOverlay = {
  readonly network: ComplexNetwork;
  /** What `beacons` draws. */
  readonly placed: readonly Beacon[];
  readonly beacons: FeatureCollection;
  readonly coverage: FeatureCollection;
  readonly keepOuts: FeatureCollection;
};

/** In which year a programme equips which tunnels. */
export type ProgrammeYears = {
  readonly years: readonly { readonly year: number; readonly ids: readonly string[] }[];
  readonly leftOut: readonly string[];
};

/** Where the map should go; a new `key` moves it, the same key leaves it alone. */
export type MapFocus = { readonly key: string; readonly bbox?: BBox; readonly at?: LonLat };

/** How an area is drawn: by two corners, or corner by corner. */
export type AreaShape = 'box' | 'outline';

export type MapPosition = { readonly lon: number; readonly lat: number; readonly zoom: number };

export type MapViewProps = {
  readonly tiles: SurveyTiles | undefined;
  readonly layers: SurveyLayers | undefined;
  readonly design: DesignOverlay | undefined;
  /** What a newer extract would change, while it is looked at (to-change-features.ts). */
  readonly changes: FeatureCollection | undefined;
  /** A plan, while it is looked at. */
  readonly programme: ProgrammeYears | undefined;
  /** Where the table filters: the tunnels that it leaves, by id, the same list as long as they are the same. */
  readonly shownComplexes: readonly string[] | undefined;
  readonly selectedComplex: string | undefined;
  readonly hoveredComplex: string | undefined;
  readonly selectedBeacon: BeaconId | undefined;
  readonly show: {
    readonly galleries: boolean;
    readonly restricted: boolean;
    readonly coverage: boolean;
    readonly findings: boolean;
  };
  readonly theme: 'light' | 'dark';
  /** Invented data: the attribution says so. */
  readonly demo: boolean;
  readonly basemapStyleUrl: string | undefined;
  readonly focus: MapFocus | undefined;
  readonly initialPosition: MapPosition | undefined;
  /** Beacons can be chosen, not moved. */
  readonly isReadOnly: boolean;
  /** While set, the pointer draws an area instead of moving the map. */
  readonly drawing: AreaShape | undefined;
  readonly onArea: (area: Area) => void;
  readonly onAreaCancelled: () => void;
  readonly onMoved: (position: MapPosition) => void;
  readonly onHoverComplex: (id: string | undefined) => void;
  readonly onSelectComplex: (id: string | undefined) => void;
  readonly onSelectBeacon: (id: BeaconId | undefined) => void;
  /** While a beacon is dragged; undefined when the drag is given up. */
  readonly onSlidePreview: (id: BeaconId, to: LineAddress | undefined, anchor: Anchor) => void;
  /** Once, when it is let go: becomes one command. */
  readonly onSlide: (id: BeaconId, to: LineAddress, anchor: Anchor) => void;
  /** The base map could not be had: the built-in map stays. */
  readonly onBasemapFailed: (reason: string) => void;
};
