import type { Feature, Geometry, Position } from 'geojson';
import type { BBox } from '../../shared/geodesy/lon-lat.ts';
import { takeTurns } from '../take-turns.ts';
import { touchesBox } from './touches-box.ts';

/** The features of one layer, in its order: each is parsed when it is asked for. */
export type FeatureIndex = {
  readonly count: number;
  /** Throws where there is no such place in the order. */
  get(place: number): Feature;
  find(exportedId: string): Feature | undefined;
  /** The places, upwards, of the features that touch one of the boxes. */
  within(boxes: readonly BBox[]): Promise<readonly number[]>;
};

/** As every feature begins that our exports write; inside a text each of the quotation marks would have a backslash. */
const BEGIN = Buffer.from('{"type":"Feature","id":');
const END = ']}';
const COMMA = 1;
/** So many features are looked at before others may be answered, where each takes no time to speak of. */
const TURN_EVERY = 1000;
/** Numbers of a box. */
const BOX = 4;

/**
 * Reads an exported layer's JSON text. Of the features their text, bounds and ids are held: parsed whole they would take
 * several times the memory, and nobody else would be answered meanwhile.
 */
export async function buildFeatureIndex(text: Buffer): Promise<FeatureIndex> {
  const turn = takeTurns();
  const { starts, end } = await listStarts(text, turn);
  const boxes = new Float64Array(starts.length * BOX);
  const places = new Map<string, number>();
  const get = (place: number): Feature => {
    const start = starts[place];
    if (start === undefined) throw new Error(`there are ${starts.length} features, none at ${place}`);
    const next = starts[place + 1];
    return JSON.parse(text.toString('utf8', start, next === undefined ? end : next - COMMA));
  };
  for (let place = 0; place < starts.length; place += 1) {
    const { id, geometry } = get(place);
    places.set(String(id), place);
    boxes.set(boundsOfGeometry(geometry), place * BOX);
    await turn();
  }
  return {
    count: starts.length,
    get,
    find(exportedId) {
      const place = places.get(exportedId);
      return place === undefined ? undefined : get(place);
    },
    async within(asked) {
      const found: number[] = [];
      const turnNow = takeTurns();
      for (let place = 0; place < starts.length; place += 1) {
        if (place % TURN_EVERY === 0) await turnNow();
        const bounds = boxes.subarray(place * BOX, place * BOX + BOX);
        const near = asked.filter((box) => meet(bounds, box));
        if (near.length === 0) continue;
        if (near.some((box) => isWithin(bounds, box))) found.push(place);
        else {
          const { geometry } = get(place);
          if (near.some((box) => touchesBox(geometry, box))) found.push(place);
          await turnNow();
        }
      }
      return found;
    },
  };
}

/** Where each feature begins, and where the last one ends. */
async function listStarts(
  text: Buffer,
  turn: () => Promise<void>,
): Promise<{ readonly starts: readonly number[]; readonly end: number }> {
  const starts: number[] = [];
  for (let at = text.indexOf(BEGIN); at >= 0; at = text.indexOf(BEGIN, at + BEGIN.length)) {
    starts.push(at);
    if (starts.length % TURN_EVERY === 0) await turn();
  }
  const end = text.length - END.length;
  if (text.toString('utf8', end) !== END) throw new Error('the features are not the last of the layer');
  return { starts, end };
}

function boundsOfGeometry(geometry: Geometry): BBox {
  let [west, south, east, north] = [180, 90, -180, -90];
  for (const [lon = 0, lat = 0] of listPositions(geometry)) {
    west = Math.min(west, lon);
    south = Math.min(south, lat);
    east = Math.max(east, lon);
    north = Math.max(north, lat);
  }
  return [west, south, east, north];
}

function listPositions(geometry: Geometry): readonly Position[] {
  switch (geometry.type) {
    case 'Point':
      return [geometry.coordinates];
    case 'LineString':
      return geometry.coordinates;
    case 'MultiLineString':
      return geometry.coordinates.flat();
    default:
      throw new Error(`no collection has a ${geometry.type}`);
  }
}

/** Whether bounds and a box have a place in common. */
function meet([west = 0, south = 0, east = 0, north = 0]: Float64Array, box: BBox): boolean {
  return west <= box[2] && box[0] <= east && south <= box[3] && box[1] <= north;
}

function isWithin([west = 0, south = 0, east = 0, north = 0]: Float64Array, box: BBox): boolean {
  return box[0] <= west && east <= box[2] && box[1] <= south && north <= box[3];
}
