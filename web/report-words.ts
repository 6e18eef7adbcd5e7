const plural = (count: number, one: string, many = `${one}s`) =>
  `${count.toLocaleString('en-GB')} ${count === 1 ? one : many}`;

/** Every word of the report to print. */
export const reportWords = {
  back: 'Back to the survey',
  print: 'Print or save as PDF',
  hint: 'A4, portrait. Switch the browser’s own headers and footers off: the pages have their own.',
  loading: 'Preparing the report…',
  failed: 'The report could not be made.',
  none: 'None of the chosen tunnels is in this survey any more. Go back and choose again.',
  kicker: 'Beacons for satellite navigation in road tunnels',
  title: (survey: string) => `Tunnel survey: ${survey}`,
  page: (survey: string) => `Tunnel survey: ${survey}`,
  facts: {
    date: 'Report of',
    edition: 'Map data of',
    editionUnknown: (name: string) => `not told by the file (${name})`,
    source: 'Source',
    scope: 'Covers',
    all: (count: number) => `all ${plural(count, 'tunnel')} of the survey`,
    some: (count: number, all: number) =>
      `${count.toLocaleString('en-GB')} of the survey’s ${plural(all, 'tunnel')}, as chosen`,
    revision: 'Revision of the survey',
  },
  summary: {
    title: 'Summary',
    tunnels: 'Tunnels',
    length: 'Length of all bores and ramps',
    exits: 'Exits underground',
    decisions: 'Decision points',
    outage: 'Longest outage',
    misguided: 'Misguided drivers a day',
    misguidedChange: (without: string, withDesign: string) =>
      `${without} without beacons → ${withDesign} with the designs`,
    beacons: 'Beacons in the designs',
    existing: 'Beacons there already',
    cost: 'Cost of all designs',
    costNote: 'units of money, at the default unit costs',
    status: 'By status',
    statusNotes: {
      none: 'no beacons, and none planned: listed, not designed',
      planned: 'a design, and no working beacons on the wall',
      'partly equipped': 'some beacons work, with gaps above redundancy × spacing',
      equipped: 'beacons work with no gap above redundancy × spacing',
    },
    first: (names: string) => `Most drivers are spared for the money, in this order: ${names}.`,
    programme: (tunnels: number, years: number, cost: string) =>
      `The programme below equips ${plural(tunnels, 'tunnel')} in ${plural(years, 'year')} for ${cost} units of money.`,
  },
  map: {
    title: 'Map',
    label: (survey: string) => `Map of the tunnels of ${survey}`,
    north: 'N',
    legend: 'Tunnels by status; the number is the rank',
    noBackground: 'The background is left out: the survey is too large for one page.',
    unlabelled: (count: number) =>
      `${plural(count, 'number')} left out where there was no room; every tunnel is drawn.`,
    notRanked: 'Without a number: not ranked.',
    lines: { road: 'road', water: 'water' },
    beacon: 'beacon',
    portal: 'portal',
    decision: 'decision point',
    flat: 'Mercator projection; the scale holds in the middle of the map.',
  },
  table: {
    title: 'Tunnels by rank',
    columns: {
      rank: 'Rank',
      name: 'Tunnel',
      status: 'Status',
      lengthM: 'Length m',
      exitCount: 'Exits',
      decisionCount: 'Decis. points',
      outageS: 'Outage s',
      maxspeedKmh: 'Limit km/h',
      vehiclesPerDay: 'Vehicles a day',
      misguided: 'Misguided a day',
      beaconCount: 'Beacons',
      cost: 'Cost',
    },
    notRanked: '–',
    note: '* assumed, not in the map data or counted. Misguided a day: without beacons → with the design. Length: all bores and ramps, each way once. Rank 1 first; –: not ranked (open at the side, private, or no decision point that counts). Cost in units of money.',
    leftOut: (count: number) =>
      `The table ends here: ${plural(count, 'more tunnel')} of lower rank ${count === 1 ? 'is' : 'are'} not printed. They are in the map, in the summary and in every export.`,
  },
  programme: {
    title: 'Programme',
    terms: (years: number, budget: string, nights: string) =>
      `Over ${plural(years, 'year')} with at most ${budget} units of money and ${nights} closure nights a year, chosen to spare as many misguided drivers as can be.`,
    proven: 'No better programme exists within these limits.',
    bound: (drivers: string) =>
      `Not proven to be the best; no programme within these limits spares more than ${drivers} drivers.`,
    stale: 'The survey has changed since it was planned: plan it again.',
    whole: 'It is a programme for the whole survey, also where this report covers a part of it.',
    columns: {
      year: 'Year',
      tunnels: 'Tunnels',
      cost: 'Cost',
      nights: 'Nights',
      avoided: 'Misguided a day avoided by then',
    },
    nothing: 'none',
    sum: 'All years',
  },
  method: {
    title: 'Method',
    parts: [
      {
        title: 'From the map to tunnels',
        text: 'Every road that cars may use and that OpenStreetMap calls a tunnel is taken. Ways are joined where they share a node, never where they merely cross. Bores that share nodes, a name, or run side by side in opposite directions are one tunnel. A portal is where a bore meets the open air; a decision point is a fork where a driver needs guidance, underground or after a portal before positioning has recovered. Lengths are measured on the WGS84 ellipsoid. What the map does not say is assumed by class of road and marked.',
      },
      {
        title: 'Designs',
        text: 'Beacons stand on the tunnel wall at equal intervals between compulsory places (portals, approaches to forks, the first metres of each branch), never farther apart than the spacing; or as few as the same rules allow. Any single failure must leave no gap above redundancy × spacing. Before a decision point beacons stand within the decision sight distance: the way driven in the decision time.',
      },
      {
        title: 'Misguided drivers',
        text: 'Each route is driven many times in simulation, without beacons and with the design. Between fixes a receiver assumes a speed; the car drives another. Guidance fails where the instruction comes too late to act on, or too early. The share of drives that fail, times the vehicles that pass and the share of drivers who are guided, gives misguided drivers a day. Vehicles are counts where they were brought, otherwise assumed by class of road.',
      },
      {
        title: 'Rank and cost',
        text: 'Tunnels are ranked by misguided drivers avoided for each unit of money. The cost of a design is its beacons, and the closure nights and crews that mounting takes, bore by bore, at unit costs that the user sets. A programme spreads the tunnels over years within a budget and a number of nights.',
      },
    ],
    values: 'Values used',
    columns: { rule: 'Value', used: 'Used', source: 'Where it comes from' },
    changed: (fallback: string) => `set for this survey; default ${fallback}`,
    single: 'A tunnel may have values of its own; the exports carry a value for every rule.',
    sources: {
      T: 'common practice, no source',
      none: 'project default',
    },
  },
  assumptions: {
    title: 'Assumed, because the map data do not say',
    kinds: {
      lanes: 'Number of lanes, by class of road',
      maxspeed: 'Speed limit, by class of road',
      'variable maxspeed': 'Speed limit varies: the highest is taken',
      width: 'Width of the carriageway, from lanes',
      placement: 'The drawn line is taken as the middle of the carriageway',
      traffic: 'Vehicles a day, by class of road',
    } as Readonly<Record<string, string>>,
    columns: { what: 'What', tunnels: 'Tunnels' },
    none: 'Nothing was assumed for these tunnels.',
  },
  cautions: {
    title: 'Cautions',
    lines: [
      'This report is for planning. It is no permit, no safety case and no survey on site; local codes, the road authority and the tunnel manager prevail, and licensed practice decides.',
      'Work in a tunnel only inside an approved closure, with traffic management by licensed staff; never on a live carriageway, never alone.',
      'Work at height, ventilation and communication have to be checked before anyone goes in. Check headroom, washing brushes and the clearance of vehicles at each place; do not cover signs, detectors, doors, lights or emergency equipment.',
      'The alignment is as good as the map: OpenStreetMap lines may be metres off underground. Check chainage, side and height on site.',
      'Beacons help navigation; they are not a safety function, and drivers have to follow the signs.',
    ],
  },
  licence: {
    title: 'Attribution and licence',
    osm: 'Map data © OpenStreetMap contributors, available under the Open Database License 1.0 (openstreetmap.org/copyright, opendatacommons.org/licenses/odbl). Whoever passes this report on keeps this line on it.',
    made: (version: string) => `Made with ${version}.`,
  },
};
