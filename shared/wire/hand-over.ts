import { z } from 'zod';
import { EXPORTED_LAYERS, type ExportedLayer } from './layers.ts';

/** What a format is: how its file ends, its media type, and the layers that it can hold. */
export type FormatSpec = {
  readonly extension: string;
  readonly mediaType: string;
  readonly layers: readonly ExportedLayer[];
};

const MARKS = ['portals', 'decisions', 'features', 'beacons'] as const satisfies readonly ExportedLayer[];

/**
 * The formats of the hand-over. `zip`: the layers as GeoJSON files with their schemas, the table, the import report and
 * the licence; `csv` with several layers is a zip of tables. KML and GPX hold what a crew looks for on site.
 */
export const HAND_OVER_FORMATS = {
  zip: { extension: 'zip', mediaType: 'application/zip', layers: EXPORTED_LAYERS },
  geojson: { extension: 'geojson', mediaType: 'application/geo+json', layers: EXPORTED_LAYERS },
  csv: { extension: 'csv', mediaType: 'text/csv; charset=utf-8', layers: EXPORTED_LAYERS },
  gpkg: { extension: 'gpkg', mediaType: 'application/geopackage+sqlite3', layers: EXPORTED_LAYERS },
  kml: { extension: 'kml', mediaType: 'application/vnd.google-earth.kml+xml', layers: ['bores', ...MARKS] },
  gpx: { extension: 'gpx', mediaType: 'application/gpx+xml', layers: MARKS },
} as const satisfies Record<string, FormatSpec>;
export type HandOverFormat = keyof typeof HAND_OVER_FORMATS;
export const FORMAT_NAMES = Object.keys(HAND_OVER_FORMATS) as readonly HandOverFormat[];

/** The file that a choice gives; several tables come in a zip. */
export function findFileSpec(
  format: HandOverFormat,
  layers: readonly ExportedLayer[],
): Omit<FormatSpec, 'layers'> {
  return HAND_OVER_FORMATS[format === 'csv' && layers.length > 1 ? 'zip' : format];
}

/** So many tunnels may be named; all of them need no naming. */
const MAX_TUNNELS = 100_000;

/** What is asked for: every tunnel, every layer that the format holds, and the zip, where nothing is said. */
export const handOverRequestSchema = z
  .strictObject({
    tunnels: z
      .array(z.string().max(200))
      .max(MAX_TUNNELS)
      .optional()
      .describe('Ids of tunnels; all of them where it is left out.'),
    layers: z
      .array(z.string().max(50))
      .max(50)
      .optional()
      .describe(`Of ${EXPORTED_LAYERS.join(', ')}; all that the format holds where it is left out.`),
    format: z
      .string()
      .max(50)
      .optional()
      .describe(`One of ${FORMAT_NAMES.join(', ')}; zip where it is left out.`),
  })
  .meta({ id: 'HandOverRequest' });
export type HandOverRequest = z.infer<typeof handOverRequestSchema>;

/** What a hand-over of these tunnels would hold. */
export const handOverPreviewSchema = z
  .object({
    tunnels: z.number(),
    /** Features of each layer. */
    layers: z.object(
      Object.fromEntries(EXPORTED_LAYERS.map((layer) => [layer, z.number()])) as Record<
        ExportedLayer,
        z.ZodNumber
      >,
    ),
    /** The file's name without what tells the format. */
    name: z.string(),
  })
  .meta({ id: 'HandOverPreview' });
export type HandOverPreview = z.infer<typeof handOverPreviewSchema>;
