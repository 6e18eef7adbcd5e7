/** Where a survey's data come from: who has to be named, and where an object can be looked at. */
export type Origin = {
  readonly attribution: string;
  /** Objects stand at `${objectUrl}/way/1`; absent for data that are nowhere to be seen. */
  readonly objectUrl?: string;
};

/** The whole text of OpenStreetMap's licence. */
export const ODBL_URL = 'https://opendatacommons.org/licenses/odbl/1-0/';

/** OpenStreetMap's licence asks for this line on the map and in every export. */
export const OSM_ORIGIN: Origin = {
  attribution:
    '© OpenStreetMap contributors, Open Database License 1.0, https://www.openstreetmap.org/copyright',
  objectUrl: 'https://www.openstreetmap.org',
};

/** What the generator of the invented city writes into its extract. */
export const DEMO_GENERATOR = 'boremark demo';

const DEMO_ORIGIN: Origin = {
  attribution: 'Aldermouth: invented demo data, CC0 1.0, not from OpenStreetMap',
};

/** The origin that an extract's generator tells. */
export function findOrigin(source: { readonly generator?: string }): Origin {
  return source.generator === DEMO_GENERATOR ? DEMO_ORIGIN : OSM_ORIGIN;
}
