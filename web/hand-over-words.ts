import type { HandOverFormat } from '../shared/wire/hand-over.ts';

const plural = (count: number, one: string, many = `${one}s`) =>
  `${count.toLocaleString('en-GB')} ${count === 1 ? one : many}`;

/** What is said where a survey is handed over. */
export const handOverWords = {
  title: (survey: string) => `Export ${survey}`,
  tunnels: {
    legend: 'Which tunnels',
    all: (count: number) => `All of the survey (${count.toLocaleString('en-GB')})`,
    shown: (count: number) => `Those in the table now (${count.toLocaleString('en-GB')})`,
    shownNote: 'What the filters of the table leave.',
    open: (name: string) => `Only ${name}`,
    picked: (count: number) => `Chosen here (${count.toLocaleString('en-GB')})`,
    find: 'Find a tunnel',
    list: 'Tunnels to choose from',
    more: (count: number) => `${plural(count, 'more tunnel')}: write more of the name.`,
    noMatch: (text: string) => `No tunnel matches “${text}”.`,
    none: 'Choose at least one tunnel.',
  },
  format: {
    legend: 'What for',
    names: {
      zip: {
        name: 'Package of GeoJSON files (zip)',
        what: 'Everything for an authority: layers, schemas, table, import report, licence.',
      },
      geojson: { name: 'GeoJSON, one file', what: 'For a web map or a script: all chosen layers together.' },
      gpkg: { name: 'GeoPackage', what: 'For a desktop GIS: a table for each layer, with types.' },
      csv: { name: 'CSV tables', what: 'For a spreadsheet or a database: units stand in the column names.' },
      kml: { name: 'KML', what: 'For crews, in an earth viewer: a folder for each tunnel.' },
      gpx: { name: 'GPX', what: 'For crews, in a handheld: waypoints with their chainage.' },
      report: {
        name: 'Report to print (A4)',
        what: 'For people: summary, method, map, tunnels by rank, cautions. Paper or PDF.',
      },
    } satisfies Record<HandOverFormat | 'report', { name: string; what: string }>,
  },
  layers: {
    legend: 'Layers',
    misfit: (format: string) => `not in ${format}`,
    report: 'The report has a map and tables of its own; there is no layer to choose.',
    none: 'Choose at least one layer.',
    counting: 'Counting…',
    notCounted: 'The layers could not be counted.',
  },
  result: (file: string, tunnels: number, features: number) =>
    `You get ${file}: ${plural(tunnels, 'tunnel')}, ${plural(features, 'feature')}.`,
  resultEmpty: 'The chosen tunnels have nothing in the chosen layers.',
  resultReport: (tunnels: number) =>
    `You get a page of ${plural(tunnels, 'tunnel')} to print, or to keep as PDF.`,
  licence:
    'Map data © OpenStreetMap contributors, Open Database License 1.0: whoever passes this on must name the source and keep the licence.',
  start: 'Export',
  openReport: 'Open the report',
  working: 'Making the file…',
  received: (megabytes: string) => `${megabytes} MB received`,
  done: (file: string) => `${file} was saved with your downloads.`,
  cancelled: 'Cancelled. Nothing was saved.',
  failed: 'The export did not work.',
};
