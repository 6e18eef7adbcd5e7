import { buildNetwork, NETWORK_RULES } from '../../shared/network/build-network.ts';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import type { OsmExtract } from '../../shared/osm/extract.ts';
import { listComplexNetworks } from '../../shared/pipeline/build-survey.ts';
import { drawPlace, type PlaceDrawing } from '../places/draw-place.ts';
import { seeded } from './compare.ts';

type Tunnel = { readonly lengthM: number; readonly ramps: number; readonly rampM: number };

const bore = { highway: 'trunk', oneway: 'yes', tunnel: 'yes', lanes: '2', maxspeed: '80' };
const ramp = { ...bore, highway: 'trunk_link', lanes: '1', maxspeed: '50' };
/** Far enough that no tunnel is taken for part of another. */
const APART_M = 10_000;
const NODES_EACH = 100;
/** Ramps leave and join at this slope. */
const [ALONG, ASIDE] = [0.96, 0.28];

/** An invented city: one-way bores to the east, each with ramps that leave and join it underground in turn. */
export function drawCity(count: number, tunnel: Tunnel): readonly ComplexNetwork[] {
  const networks = listComplexNetworks(buildNetwork(drawCityMap(count, tunnel), NETWORK_RULES).value);
  if (networks.length !== count) throw new Error(`${networks.length} tunnels were built of ${count}`);
  return networks;
}

/** The same as map data. */
export function drawCityMap(count: number, tunnel: Tunnel): OsmExtract {
  const random = seeded(5);
  const columns = Math.ceil(Math.sqrt(count));
  const drawings = Array.from({ length: count }, (_, i) =>
    drawTunnel(tunnel, i, [(i % columns) * APART_M, Math.floor(i / columns) * APART_M], random),
  );
  const nodes = Object.assign({}, ...drawings.map((drawing) => drawing.nodes));
  const ways = drawings.flatMap((drawing) => drawing.ways);
  return drawPlace({ nodes, ways });
}

function drawTunnel(
  { lengthM, ramps, rampM }: Tunnel,
  index: number,
  [east, north]: readonly [number, number],
  random: () => number,
): PlaceDrawing {
  const base = 1 + index * NODES_EACH;
  const middle = Array.from({ length: ramps }, (_, i) => ((i + 0.3 + 0.4 * random()) / ramps) * lengthM);
  const nodes: Record<number, [number, number]> = {
    [base]: [east, north],
    [base + 1]: [east + lengthM, north],
  };
  const ways: PlaceDrawing['ways'][number][] = [
    { id: base, nodes: [base, ...middle.map((_, i) => base + 10 + i), base + 1], tags: bore },
  ];
  middle.forEach((atM, i) => {
    const [fork, mouth] = [base + 10 + i, base + 50 + i];
    const leaves = i % 2 === 0;
    const side = Math.floor(i / 2) % 2 === 0 ? -1 : 1;
    const reachM = rampM * (0.8 + 0.4 * random());
    nodes[fork] = [east + atM, north];
    nodes[mouth] = [
      east + atM + (leaves ? 1 : -1) * ALONG * reachM,
      north + side * (leaves ? 1 : 1.5) * ASIDE * reachM,
    ];
    ways.push({ id: base + 10 + i, nodes: leaves ? [fork, mouth] : [mouth, fork], tags: ramp });
  });
  return { nodes, ways };
}
