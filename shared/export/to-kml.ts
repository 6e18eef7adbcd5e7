import type { Feature, Position } from 'geojson';
import type { ExportedLayer } from '../wire/layers.ts';
import { escapeXml } from './escape-xml.ts';
import { GENERATOR } from './make-collection.ts';
import { describeMark, nameMark } from './name-mark.ts';
import type { Origin } from './origin.ts';
import { LAYER_TITLES, type TunnelMarks } from './tunnel-marks.ts';

/** Colours as KML writes them: opacity, blue, green, red. */
const STYLES: Readonly<Partial<Record<ExportedLayer, string>>> = {
  bores: '<LineStyle><color>ff646e0b</color><width>4</width></LineStyle>',
  portals: icon('ff272017'),
  decisions: icon('ff5e1d8f'),
  features: icon('ff377a1d'),
  beacons: icon('ffb45f0a'),
};

/** KML 2.2, piece by piece: a folder for each tunnel, in it one for each layer; points and lines with their names. */
export function* toKml(name: string, tunnels: Iterable<TunnelMarks>, origin: Origin): Generator<string> {
  yield '<?xml version="1.0" encoding="UTF-8"?>\n<kml xmlns="http://www.opengis.net/kml/2.2">\n<Document>\n';
  yield `<name>${escapeXml(name)}</name>\n`;
  yield `<description>${escapeXml(`${origin.attribution}. Written by ${GENERATOR}.`)}</description>\n`;
  for (const [layer, style] of Object.entries(STYLES)) yield `<Style id="${layer}">${style}</Style>\n`;
  for (const tunnel of tunnels) {
    yield `<Folder>\n<name>${escapeXml(tunnel.name)}</name>\n`;
    for (const { layer, features } of tunnel.parts) {
      yield `<Folder>\n<name>${LAYER_TITLES[layer]}</name>\n`;
      for (const feature of features) yield toPlacemark(layer, feature);
      yield '</Folder>\n';
    }
    yield '</Folder>\n';
  }
  yield '</Document>\n</kml>\n';
}

function toPlacemark(layer: ExportedLayer, feature: Feature): string {
  return [
    '<Placemark>',
    `<name>${escapeXml(nameMark(layer, feature))}</name>`,
    `<description>${escapeXml(describeMark(layer, feature))}</description>`,
    `<styleUrl>#${layer}</styleUrl>`,
    `<ExtendedData><Data name="id"><value>${escapeXml(String(feature.id))}</value></Data></ExtendedData>`,
    toGeometry(feature),
    '</Placemark>\n',
  ].join('');
}

function toGeometry({ geometry }: Feature): string {
  if (geometry.type === 'Point') {
    return `<Point><coordinates>${toText(geometry.coordinates)}</coordinates></Point>`;
  }
  if (geometry.type !== 'LineString') throw new Error(`no ${geometry.type} is written for crews`);
  return `<LineString><tessellate>1</tessellate><coordinates>${geometry.coordinates.map(toText).join(' ')}</coordinates></LineString>`;
}

function toText([lon, lat]: Position): string {
  return `${lon},${lat}`;
}

function icon(colour: string): string {
  return `<IconStyle><color>${colour}</color><scale>0.8</scale></IconStyle><LabelStyle><scale>0.8</scale></LabelStyle>`;
}
