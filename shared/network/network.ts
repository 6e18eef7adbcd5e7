import type { BBox, LonLat } from '../geodesy/lon-lat.ts';
import type { RoadClass } from '../osm/read-highway.ts';
import type { DrivingSide } from '../osm/read-placement.ts';

declare const brand: unique symbol;
export type LinkId = string & { readonly [brand]: 'LinkId' };
export type ComplexId = string & { readonly [brand]: 'ComplexId' };

/** `covered` and `gallery` weaken satellite signals but do not cut them off; they are kept apart and not ranked. */
export type TunnelKind = 'tunnel' | 'covered' | 'gallery';

/** Where vehicles may go along a link, seen in its direction of digitising. One-way links are always `forward`. */
export type TravelDirection = 'forward' | 'both' | 'reversible';

/**
 * What was not read from the data: taken from the defaults by road class; `variable maxspeed`: the highest of several
 * limits; `placement`: the drawn line taken as the middle of the carriageway although the data say it is not.
 */
export type Assumption = 'lanes' | 'maxspeed' | 'variable maxspeed' | 'width' | 'placement';

/** The part of a link that one OSM way gave, from `fromM` to `toM` in the link's chainage. */
export type Stretch = {
  readonly wayId: number;
  readonly fromNode: number;
  readonly toNode: number;
  readonly fromM: number;
  readonly toM: number;
  readonly roadClass: RoadClass;
  readonly lanes: number;
  /** The speed limit; where the two directions differ, the higher one. */
  readonly speedMps: number;
  /** The lower limit of the direction that has one: along the link, or against it. */
  readonly alongMps?: number;
  readonly againstMps?: number;
  /** Only where the data give a width; otherwise the design's lane width times the lanes. */
  readonly widthM?: number;
  /**
   * From the drawn line to the middle of the carriageway, in lane widths, positive to the right of the direction of
   * chainage. Only where the data say that the line is not the middle (`placement`).
   */
  readonly centreLanes?: number;
  readonly layer: number;
  readonly name?: string;
  readonly tunnelName?: string;
  readonly ref?: string;
  readonly assumed: readonly Assumption[];
};

/**
 * A piece of a bore between two nodes that matter (portal, diverge, merge, crossing, change of one-way rule).
 * `line` has one position per entry of `nodes`; `lengthM` is ellipsoidal. The summary values (class, lanes,
 * speed, layer) are those that hold over the greatest part of the length.
 */
export type Link = {
  readonly id: LinkId;
  readonly kind: TunnelKind;
  readonly direction: TravelDirection;
  /** `access=private|no`, parking aisles and driveways: kept, but hidden and not designed unless asked for. */
  readonly restricted: boolean;
  readonly fromNode: number;
  readonly toNode: number;
  readonly nodes: readonly number[];
  readonly line: readonly LonLat[];
  readonly lengthM: number;
  readonly stretches: readonly Stretch[];
  readonly roadClass: RoadClass;
  readonly lanes: number;
  readonly speedMps: number;
  readonly layer: number;
  readonly assumed: readonly Assumption[];
};

/** Where a bore meets the open air; `direction` as seen from the open air. */
export type Portal = {
  readonly osmNode: number;
  readonly at: LonLat;
  readonly direction: 'in' | 'out' | 'both';
  /** The tunnel ends here with no drivable way in the open air. */
  readonly deadEnd: boolean;
  /** The data end here: a neighbouring node is missing or outside the extract. */
  readonly edgeOfExtract: boolean;
};

/** One way to leave a diverge. `linkId` is absent where the branch runs in the open air. */
export type Branch = {
  readonly wayId: number;
  readonly linkId?: LinkId;
  /** Where the branch is heading 30 m on (or at its end): for the arrow on the map. */
  readonly bearingDeg: number;
  /** The branch leaves the main carriageway. */
  readonly exit: boolean;
  /** Why it counts as an exit or as the main carriageway. */
  readonly reason: 'class' | 'destination' | 'junction-ref' | 'lanes' | 'name' | 'angle';
  /** What the signs say: `destination`, `junction:ref`, `ref` or the road's name. */
  readonly label?: string;
};

/** A node where a driver can legally choose, underground or in the open air after a portal. */
export type Decision = {
  readonly osmNode: number;
  readonly at: LonLat;
  readonly where: 'underground' | 'after portal';
  /** Two or more ways to go from one arrival stay underground; a fork at the mouth has fewer. */
  readonly inside: boolean;
  readonly branches: readonly Branch[];
  /** Driving distance from the last satellite fix (the entry portal that is farthest away), metres. */
  readonly distanceFromFixM: number;
  /** For a decision after a portal: driving distance from the exit portal, metres. */
  readonly distanceFromPortalM?: number;
  /** The exit portal that `distanceFromPortalM` is measured from. */
  readonly portalNode?: number;
  /**
   * The share of those who leave by that portal who come by this point, where at every choice on the way as many take
   * one road as another: nothing is known of how they spread.
   */
  readonly reachShare?: number;
  /** Other exit portals that lead to the same decision, each with its own driving distance in metres and its share. */
  readonly alsoFrom?: readonly {
    readonly portalNode: number;
    readonly distanceM: number;
    readonly reachShare: number;
  }[];
  readonly speedMps: number;
};

/** A node where two or more ways to come join into one way to go. */
export type Merge = {
  readonly osmNode: number;
  readonly at: LonLat;
  /** Two or more of the ways to come are underground. */
  readonly inside: boolean;
};

/** One link of a route; `against` its direction of digitising on a two-way link. */
export type RouteStep = {
  readonly linkId: LinkId;
  readonly against: boolean;
  /** The opening that the driver comes through to this link, where it does not follow on the one before underground. */
  readonly opening?: Opening;
};

/**
 * One legal way through a complex, from an entry portal to an exit portal, at the speed limits, through openings too
 * short for satellite positioning to recover in. The whole of it is one outage.
 */
export type Route = {
  readonly id: string;
  readonly entryNode: number;
  readonly exitNode: number;
  readonly steps: readonly RouteStep[];
  readonly lengthM: number;
  readonly durationS: number;
  /** The decision points underground in the order in which the driver meets them. */
  readonly decisionNodes: readonly number[];
};

/**
 * An opening between two bores that is too short for satellite positioning to recover in: out of one portal and,
 * by a legal way in the open air, into the next. It joins their outages.
 */
export type Opening = {
  readonly fromNode: number;
  readonly toNode: number;
  readonly lengthM: number;
  readonly durationS: number;
};

/** What stands along a bore and matters to who works or escapes there. */
export type FeatureKind =
  | 'emergency exit'
  | 'emergency phone'
  | 'fire extinguisher'
  | 'fire hydrant'
  | 'lay-by'
  | 'cross passage'
  | 'junction';

/** A feature of the map on or beside a bore; offset positive to the right of the direction of chainage. */
export type BoreFeature = {
  readonly kind: FeatureKind;
  readonly osm: { readonly type: 'node' | 'way'; readonly id: number };
  readonly at: LonLat;
  readonly linkId: LinkId;
  readonly chainageM: number;
  readonly offsetM: number;
  /**
   * `on`: a node of the bore, or the data put it underground or on the bore's layer; `near`: it lies beside the bore's
   * line in the plan and the data do not say how deep.
   */
  readonly where: 'on' | 'near';
  /** Its number or name, where the map gives one. */
  readonly label?: string;
};

/** Why links stand together as one complex. */
export type Grouping = {
  readonly reason: 'shared-nodes' | 'by-hand' | 'same-name' | 'same-ref' | 'tunnel-relation' | 'twin-bore';
  /** The name, ref, relation id or distance that the reason rests on. */
  readonly detail: string;
  readonly linkIds: readonly LinkId[];
};

/** Everything a practitioner calls "the tunnel". Lists are sorted by id. */
export type Complex = {
  readonly id: ComplexId;
  readonly name?: string;
  readonly ref?: string;
  readonly kind: TunnelKind;
  readonly restricted: boolean;
  readonly linkIds: readonly LinkId[];
  readonly boreCount: number;
  readonly portals: readonly Portal[];
  readonly diverges: readonly Decision[];
  readonly merges: readonly Merge[];
  readonly decisionsAfterPortal: readonly Decision[];
  readonly openings: readonly Opening[];
  /** Every legal way through; cut (with a finding) where there are too many to list. */
  readonly routes: readonly Route[];
  readonly features: readonly BoreFeature[];
  readonly grouping: readonly Grouping[];
  /** Sum of all links, each counted once. */
  readonly lengthM: number;
  /** The longest of `routes`. */
  readonly longestRouteM: number;
  /** The longest drive without satellite positioning at the speed limits, over short openings too. */
  readonly outageS: number;
  readonly bbox: BBox;
  readonly osmWays: readonly number[];
};

/** The network stage's output. Links and complexes are sorted by id; each link is in exactly one complex. */
export type TunnelNetwork = {
  readonly links: readonly Link[];
  readonly complexes: readonly Complex[];
  /** On which side traffic keeps; only where the roads show it. */
  readonly drivingSide?: DrivingSide;
};

/** What one complex needs to be designed anywhere (server, browser's worker): itself and its links. */
export type ComplexNetwork = { readonly complex: Complex; readonly links: readonly Link[] };
