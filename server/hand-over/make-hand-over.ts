import { toGeojsonText } from '../../shared/export/to-geojson-text.ts';
import { toGpx } from '../../shared/export/to-gpx.ts';
import { toKml } from '../../shared/export/to-kml.ts';
import { toLayerCsv } from '../../shared/export/to-layer-csv.ts';
import { toLicenceText } from '../../shared/export/to-licence-text.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import {
  listPackageFiles,
  listSurveyFiles,
  type SurveyParts,
} from '../../shared/pipeline/list-survey-files.ts';
import { walkLayer } from '../../shared/pipeline/walk-layer.ts';
import { walkTunnels } from '../../shared/pipeline/walk-tunnels.ts';
import { findFileSpec } from '../../shared/wire/hand-over.ts';
import type { ExportedLayer } from '../../shared/wire/layers.ts';
import { chooseTunnels } from './choose-tunnels.ts';
import type { HandOver } from './read-hand-over.ts';
import { toFileName } from './to-file-name.ts';
import type { Writer } from './to-stream.ts';
import { writeGeopackage } from './write-geopackage.ts';
import { writeText } from './write-text.ts';
import { writeZip } from './write-zip.ts';

/** The file of a hand-over, which is written when somebody reads it. */
export type HandOverFile = { readonly fileName: string; readonly mediaType: string; readonly write: Writer };

/** The survey that is handed over, with all its tunnels, and when. */
export type HandOverSource = SurveyParts & { readonly name: string; readonly at: Date };

/** Refused: `hand-over-tunnel` where a tunnel is not in the survey, `hand-over-empty` where nothing would be in the file. */
export function makeHandOver(handOver: HandOver, source: HandOverSource): Result<HandOverFile> {
  const { format, layers, tunnels } = handOver;
  const chosen = chooseTunnels(source.designed, tunnels);
  if (!chosen.ok) return chosen;
  const designed = chosen.value;
  if (!layers.some((layer) => walkLayer(layer, designed).next().done !== true)) {
    return refused(
      refusal('hand-over-empty', { reason: `the chosen tunnels have no ${layers.join(', no ')}` }),
    );
  }
  const { extension, mediaType } = findFileSpec(format, layers);
  const fileName = `${toFileName(source.name)}.${extension}`;
  return done({ fileName, mediaType, write: makeWriter(handOver, { ...source, designed }) });
}

function makeWriter({ format, layers }: HandOver, source: HandOverSource): Writer {
  const { designed, members, name, at } = source;
  const { origin, rules } = members;
  const walked = () => layers.map((layer) => ({ layer, features: walkLayer(layer, designed) }));
  switch (format) {
    case 'zip':
      return (signal) =>
        writeZip([...listSurveyFiles(layers, source), ...listPackageFiles(layers, source)], signal);
    case 'geojson':
      return (signal) => writeText(toGeojsonText(walked(), origin, rules), signal);
    case 'csv':
      return makeTables(layers, source);
    case 'gpkg':
      return (signal) => writeGeopackage({ layers: walked(), origin, at }, signal);
    case 'kml':
      return (signal) => writeText(toKml(name, walkTunnels(layers, designed), origin), signal);
    case 'gpx':
      return (signal) => writeText(toGpx(name, walkTunnels(layers, designed), origin), signal);
  }
}

/** One layer is a table; several are a zip of them, with the licence. */
function makeTables(layers: readonly ExportedLayer[], { designed, members }: HandOverSource): Writer {
  const tables = layers.map((layer) => ({
    name: `${layer}.csv`,
    pieces: toLayerCsv(layer, walkLayer(layer, designed)),
  }));
  const [first, ...more] = tables;
  if (first !== undefined && more.length === 0) return (signal) => writeText(first.pieces, signal);
  const licence = { name: 'LICENCE.txt', pieces: [toLicenceText(members.origin)] };
  return (signal) => writeZip([...tables, licence], signal);
}
