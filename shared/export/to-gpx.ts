import type { Feature } from 'geojson';
import type { ExportedLayer } from '../wire/layers.ts';
import { escapeXml } from './escape-xml.ts';
import { GENERATOR } from './make-collection.ts';
import { describeMark, nameMark } from './name-mark.ts';
import { ODBL_URL, type Origin } from './origin.ts';
import { LAYER_TITLES, type TunnelMarks } from './tunnel-marks.ts';

const HEAD =
  '<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="http://www.topografix.com/GPX/1/1 http://www.topografix.com/GPX/1/1/gpx.xsd"';

/** GPX 1.1, piece by piece: a waypoint for each point, its elements in the order that the schema wants. */
export function* toGpx(name: string, tunnels: Iterable<TunnelMarks>, origin: Origin): Generator<string> {
  yield `<?xml version="1.0" encoding="UTF-8"?>\n${HEAD} creator="${escapeXml(GENERATOR)}">\n<metadata>`;
  yield `<name>${escapeXml(name)}</name><desc>${escapeXml(`${origin.attribution}.`)}</desc>`;
  if (origin.objectUrl !== undefined) {
    yield `<copyright author="OpenStreetMap contributors"><license>${ODBL_URL}</license></copyright>`;
  }
  yield '</metadata>\n';
  for (const tunnel of tunnels) {
    for (const { layer, features } of tunnel.parts) {
      for (const feature of features) yield toWaypoint(tunnel.name, layer, feature);
    }
  }
  yield '</gpx>\n';
}

function toWaypoint(tunnel: string, layer: ExportedLayer, feature: Feature): string {
  if (feature.geometry.type !== 'Point') throw new Error(`no ${feature.geometry.type} is a waypoint`);
  const [lon, lat] = feature.geometry.coordinates;
  const about = [describeMark(layer, feature), String(feature.id)].filter((part) => part !== '').join(', ');
  return [
    `<wpt lat="${lat}" lon="${lon}">`,
    `<name>${escapeXml(`${tunnel}, ${nameMark(layer, feature)}`)}</name>`,
    `<desc>${escapeXml(about)}</desc>`,
    `<type>${escapeXml(LAYER_TITLES[layer])}</type>`,
    '</wpt>\n',
  ].join('');
}
