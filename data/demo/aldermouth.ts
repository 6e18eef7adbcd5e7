import { City } from './city/city.ts';
import { dropStrayStreets } from './city/drop-stray.ts';
import { joinStreets } from './city/join-streets.ts';
import { numberObjects, writeOsm } from './city/write-osm.ts';
import { drawGround } from './ground/draw-ground.ts';
import { listTraps } from './readme/list-traps.ts';
import { listTunnels } from './readme/list-tunnels.ts';
import { layDistricts } from './streets/districts.ts';
import { layJunctions } from './streets/junctions.ts';
import { layMainRoads } from './streets/lay-main-roads.ts';
import { layPlaces } from './streets/places.ts';
import { layPort } from './streets/port.ts';
import { layRailway } from './streets/railway.ts';
import { layRing, type Ring } from './streets/ring.ts';
import { Site } from './streets/site.ts';
import { layCarPark } from './tunnels/car-park.ts';
import { layAdit, laySkerrowLink } from './tunnels/edges.ts';
import { layBays, layCrossPassages, layFeatures } from './tunnels/features.ts';
import { layOddBores } from './tunnels/odd-bores.ts';
import { layPassages } from './tunnels/passages.ts';

const SOUTH_WEST = [-7600, -6000] as const;
const NORTH_EAST = [7600, 6000] as const;

/** The city as OSM XML, and the tables of its README. */
export type Aldermouth = {
  readonly osm: string;
  readonly tables: { readonly tunnels: string; readonly traps: string };
};

/** Draws the invented city of Aldermouth; the result is the same every time. */
export function buildAldermouth(): Aldermouth {
  const city = new City();
  const ground = drawGround(city);
  const ring = layRing(city);
  const railway = layRailway(city);
  const roads = layMainRoads(city);
  layJunctions(city, ring.dual, roads, ring.harbourExitAt);
  layPort(city, railway);
  layOddBores(city);
  layPassages(city);
  laySkerrowLink(city);
  layAdit(city);
  layCarPark(city);
  fitOut(city, ring);
  const site = new Site(city, ground);
  layDistricts(city, site);
  joinStreets(city, (a, b) => site.isOpen(a, b));
  dropStrayStreets(city);
  layPlaces(city);
  const ids = numberObjects(city);
  return {
    osm: writeOsm(city, ids, SOUTH_WEST, NORTH_EAST),
    tables: { tunnels: listTunnels(city, ids), traps: listTraps(city, ids) },
  };
}

/** Phones, exits and lay-bys of the two long twin bores. */
function fitOut(city: City, ring: Ring): void {
  const { hallow, harbour } = ring;
  layFeatures(city, ring.dual, hallow.from, hallow.to, 'HM');
  layCrossPassages(
    city,
    ring.dual,
    [350, 700, 1050, 1450].map((s) => hallow.from + s),
  );
  layBays(ring.dual.forth, [hallow.from + 610, hallow.from + 1210]);
  layBays(ring.dual.back, [hallow.from + 640, hallow.from + 1190]);
  layFeatures(city, ring.dual, harbour.from, harbour.to, 'HT');
  layCrossPassages(
    city,
    ring.dual,
    [400, 800, 1200, 1600, 2000, 2350].map((s) => harbour.from + s),
  );
}
