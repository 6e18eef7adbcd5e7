import type { RankField } from '../shared/ranking/rank-filter.ts';
import type { PlanView, RankingRow, SuppositionView } from '../shared/wire/ranking.ts';

const plural = (count: number, one: string, many = `${one}s`) =>
  `${count.toLocaleString('en-GB')} ${count === 1 ? one : many}`;

const FIELDS: Readonly<Record<RankField, string>> = {
  misguidedPerDay: 'Misguided a day, without beacons',
  misguidedPerDayWithDesign: 'Misguided a day, with the design',
  avoidedPerDay: 'Avoided a day',
  avoidedPerCost: 'Avoided a day for each unit of money',
  cost: 'Cost',
  vehiclesPerDay: 'Vehicles a day',
  outageS: 'Longest outage, s',
  score: 'Score',
};

/** What is said about evidence, the order of the tunnels and programmes. */
export const rankingWords = {
  change: (without: string, withDesign: string) => `${without} → ${withDesign}`,
  tabs: {
    label: 'Views of the survey',
    table: 'Tunnels',
    ranking: 'Which first',
    programme: 'Programme',
    evidence: 'Traffic and beacons',
  },
  print: 'Print',
  printed: (survey: string, attribution: string | undefined, date: string | undefined, revision: number) =>
    `${survey}, revision ${revision}. Map data: ${attribution ?? '© OpenStreetMap contributors, ODbL 1.0'}${
      date === undefined ? '' : `, as of ${date}`
    }.`,
  caution:
    'Planning figures from open map data and a model of driving: an aid, not a substitute for the road authority’s own assessment, survey on site and safety case.',
  open: (name: string) => `Open ${name}`,
  table: {
    notRanked: 'Not ranked: open at the side, private, or without a decision point that counts',
    trafficAssumed: 'Assumed by road class: no count was brought for it',
    star: '* assumed',
    rank: (rank: number) => `rank ${rank}`,
    misguided: (change: string) => `${change} misguided a day`,
    choose: 'Columns',
    status: 'Status',
    statuses: {
      all: 'All',
      lacking: 'Lack beacons',
      none: 'None',
      planned: 'Planned',
      'partly equipped': 'Partly',
      equipped: 'Equipped',
    },
    statusNotes: {
      all: 'Every tunnel that is shown',
      lacking: 'Beacons are planned, and none or not enough of them hang there yet',
      none: 'No beacons, and none planned: listed, not designed',
      planned: 'A design, and no working beacons on the wall',
      'partly equipped': 'Some beacons work, with gaps above redundancy × spacing',
      equipped: 'Beacons work with no gap above redundancy × spacing',
    },
  },
  evidence: {
    title: 'Traffic and existing beacons',
    intro:
      'What the map cannot tell. It is matched with the bores at once, and again whenever newer map data are adopted.',
    choose: 'Choose a file…',
    replace: 'Replace…',
    remove: 'Remove',
    removeLong: (name: string) => `Remove ${name}`,
    sending: (name: string) => `Sending and matching ${name}…`,
    removing: 'Removing…',
    none: 'Nothing has been brought yet.',
    dropHere: 'or drop it here',
    expected: 'Columns and an example',
    columns: { column: 'Column', what: 'What it holds' },
    needed: 'needed',
    report: 'What did not match, and why',
    reportNone: 'Every row was used; nothing is to be reported.',
    reportFailed: 'The match report could not be loaded.',
    line: (line: number | string) => `line ${line}`,
    first: (shown: number, all: number) => `The first ${shown} of ${plural(all, 'entry', 'entries')}.`,
    matches: {
      title: 'Where each beacon was found',
      line: 'Line',
      device: 'Device',
      state: 'State',
      chainage: 'Chainage',
      side: 'Side',
      distance: 'From the line, m',
    },
    failed: 'The file was not taken:',
    traffic: {
      title: 'Traffic counts',
      note: 'Without a count a default by road class is used and marked assumed.',
      accept: '.csv,text/csv',
      format: 'CSV with a header; commas, semicolons or tabs.',
      matched: (matched: number, rows: number, notes: number) =>
        `${matched} of ${plural(rows, 'usable row')} matched a bore${notes === 0 ? '' : `; ${plural(notes, 'row')} had a fault`}.`,
      tunnels: (counted: number, assumed: number) =>
        `${plural(counted, 'ranked tunnel')} ${counted === 1 ? 'has' : 'have'} counts, ${assumed} ${assumed === 1 ? 'is' : 'are'} assumed at least in part.`,
      matchedTitle: 'Tunnels with counts',
      perTunnel: 'Vehicles a day',
      rows: [
        ['way', 'OpenStreetMap way id: the most exact', false],
        ['ref', 'road number, such as A31', false],
        ['name', 'name of the tunnel or road', false],
        [
          'vehicles_per_day',
          'or aadt: a whole day, both directions together where the bore is two-way',
          true,
        ],
        ['heavy_share', 'share of heavy vehicles, 0 to 1 or with %', false],
      ] as readonly (readonly [string, string, boolean])[],
      rule: 'Each row needs way, ref or name; the most exact of them decides.',
      example:
        'way,ref,name,vehicles_per_day,heavy_share\n1900002003,,,20400,8 %\n,A31,,58000,0.12\n,,Wrenlow Tunnel,9200,',
    },
    existing: {
      title: 'Existing beacons',
      note: 'Tells which tunnels are equipped, partly equipped, or lack beacons.',
      accept: '.csv,.geojson,.json,text/csv,application/geo+json',
      format: 'CSV with a header, or a GeoJSON FeatureCollection of points with the same properties.',
      matched: (matched: number, items: number, notes: number) =>
        `${matched} of ${plural(items, 'beacon')} matched a bore${notes === 0 ? '' : `; ${plural(notes, 'row')} had a fault`}.`,
      tunnels: (equipped: number, partly: number, lacking: number) =>
        `${plural(equipped, 'tunnel')} equipped, ${partly} partly, ${lacking} planned and without beacons.`,
      matchedTitle: 'Tunnels with beacons there',
      perTunnel: 'Beacons there',
      rows: [
        ['lon', 'longitude, degrees (WGS84); GeoJSON: the point', true],
        ['lat', 'latitude, degrees', true],
        ['device_id', 'identifier of the beacon', false],
        ['state', 'heard, weak, dead, missing or removed; a dead one gives no fix', false],
        ['install_date', '2024-05-14', false],
      ] as readonly (readonly [string, string, boolean])[],
      rule: 'Beacons that lie near several bores are reported with the distances.',
      example:
        'device_id,lon,lat,state,install_date\nAL-1001,-19.9864135,46.0184542,heard,2024-05-14\nAL-1010,-19.9858564,46.0215085,dead,2024-05-14',
    },
  },
  ranking: {
    title: 'Which tunnel first',
    order: 'Tunnels in their order',
    intro: (satnavPercent: string) =>
      `By misguided drivers avoided a day for each unit of money. Guided drivers: ${satnavPercent} % of all (a rule, assumed).`,
    computing: 'Driving every tunnel…',
    recomputing: 'computing…',
    failed: 'The tunnels could not be ranked.',
    refused: 'This cannot be ranked:',
    none: 'No tunnel of this survey can be ranked: only public tunnels take part.',
    allLeftOut: 'The filters leave out every tunnel.',
    columns: {
      rank: 'Rank',
      tunnel: 'Tunnel',
      misguided: 'Misguided a day',
      avoided: 'Avoided a day',
      cost: 'Cost',
      perCost: 'Avoided per 1,000',
      why: 'Left out because',
    },
    perCostNote: 'Misguided drivers avoided a day for each 1,000 units of money, times own factors',
    misguidedNote:
      'Drivers a day whose guidance fails at a decision point: without beacons → with the design',
    rangeNote: 'Between these ranks if traffic or speeds are off by half',
    range: (best: number, worst: number) => (best === worst ? '' : `${best}–${worst}`),
    working: (name: string) => `Working: ${name}`,
    traffic: (vehicles: string) => `${vehicles} veh./d`,
    assumed: 'assumed',
    factorOf: (factor: string, tunnel: string) => `${factor} of ${tunnel}`,
    weighted: (weight: string) => `weight ${weight}`,
    best: (rank: number, why: string | undefined) =>
      why === undefined ? `Best: rank ${rank} as it stands.` : `Best: rank ${rank} ${why}.`,
    worst: (rank: number, why: string | undefined) =>
      why === undefined ? `Worst: rank ${rank} as it stands.` : `Worst: rank ${rank} ${why}.`,
    supposition: (by: SuppositionView, nameOf: (id: string) => string) => {
      if (by.kind === 'drives') return `with ${by.name}`;
      const share =
        by.scale === 0.5 ? 'half' : by.scale === 1.5 ? 'one and a half times' : `${by.scale} times`;
      return by.kind === 'assumed traffic'
        ? `if all assumed traffic is ${share} as much`
        : `if the traffic of ${nameOf(by.complexId)} is ${share} what is assumed`;
    },
    terms: {
      caption: 'Misguided drivers a day, by decision point and approach',
      formula:
        'vehicles × share that comes by (past a portal as many take one road as another) × guided share × share of drives that are misguided here and were not before; to be avoided: without less with the design.',
      where: 'Decision point',
      vehicles: 'Vehicles a day',
      reach: 'Come by',
      guided: 'Guided',
      failing: 'Here first',
      perDay: 'A day',
      sum: 'Together',
      places: { underground: 'underground', 'after portal': 'after a portal' },
      node: (id: number) => `node ${id}`,
      showOnMap: 'Show on the map',
      routes: (count: number) => `mean of ${plural(count, 'route')}`,
      none: 'No decision point: nobody can be misguided here.',
    },
    chart: {
      title: 'How the rank came about',
      misguided: 'Misguided a day, by decision point:',
      without: 'without beacons',
      with: 'with the design',
      money: 'Cost of the design, units of money',
      others: (count: number) => `${count} other points`,
      summary: (without: string, withDesign: string, cost: string) =>
        `Chart: ${without} drivers misguided a day without beacons, ${withDesign} with the design, which costs ${cost}. The tables below hold the same figures.`,
      result: (avoided: string, cost: string, score: string, rank: number) =>
        `${avoided} avoided a day for ${cost}: score ${score}, rank ${rank}.`,
      assumed: 'Traffic is assumed by road class, at least in part.',
      leftOut: 'A filter of the ranking leaves this tunnel out.',
      own: 'Ranked with your own costs, factors and filters: the rank may differ from the one above.',
      toRanking: 'All ranks',
      toProgramme: 'Programme',
    },
    costTerms: {
      caption: 'Cost, units of money',
      item: 'For',
      count: 'Number',
      each: 'Each',
      cost: 'Cost',
      names: {
        beacons: 'beacons',
        'closure nights': 'closure nights',
        'crew nights': 'crew nights',
      } satisfies Record<RankingRow['costTerms'][number]['name'], string>,
    },
    score: {
      title: 'Score',
      plain: (avoided: string, cost: string, perThousand: string) =>
        `${avoided} avoided a day ÷ ${cost} × 1,000 = ${perThousand} a day for each 1,000 units of money.`,
      factor: (name: string, value: string, normalised: string, weight: string, multiplier: string) =>
        `${name} ${value}: ${normalised} of its range; 1 + ${weight} × ${normalised} = × ${multiplier}.`,
      noValue: (name: string) => `${name}: no value, × 1.`,
      result: (score: string) => `With own factors: ${score}.`,
    },
    outage: (seconds: string) => `Longest outage ${seconds} s.`,
    leftOut: (count: number) => `Left out by the filters (${count})`,
    leftOutBy: (field: string, found: string, wanted: string) => `${field}: ${found}, wanted ${wanted}`,
    noValue: (field: string) => `no value for ${field}`,
    least: (min: string) => `at least ${min}`,
    most: (max: string) => `at most ${max}`,
    between: (min: string, max: string) => `${min} to ${max}`,
  },
  costs: {
    title: 'Costs',
    changed: (count: number) => `${count} changed`,
    note: 'Money is in a unit of your own: only its proportions matter to the order.',
    reset: 'Back to the defaults',
  },
  factors: {
    title: 'Own factors',
    note: 'A column of your own, with a value for each tunnel in the table below. The lowest value leaves the score as it is, the highest multiplies it by 1 + weight.',
    name: 'Name',
    weight: 'Weight',
    add: 'Add a column',
    addHint: 'e.g. detour, hospital route',
    remove: (name: string) => `Remove the column ${name}`,
    twice: 'There is such a column already.',
    removeShort: 'Remove',
    count: (count: number) => plural(count, 'column'),
  },
  filters: {
    title: 'Filters',
    field: 'Figure',
    min: 'At least',
    max: 'At most',
    add: 'Add a filter',
    removeShort: 'Remove',
    remove: (name: string) => `Remove the filter by ${name}`,
    fields: FIELDS,
    count: (count: number) => plural(count, 'filter'),
    none: 'No filter: every public tunnel takes part.',
  },
  programme: {
    title: 'Programme',
    intro:
      'Which tunnels in which year, so that most drivers are spared. Tunnels are planned from the designs and costs as they are now; own factors and filters of the ranking do not count here.',
    plan: 'Plan',
    working: (seconds: string) => `Planning… ${seconds} s; half a minute at most.`,
    cancelled: 'Cancelled.',
    failed: 'No programme:',
    stale: 'Something was changed since this was planned: plan again.',
    none: 'Set what a year may spend, then plan.',
    nobody: 'No tunnel fits in these limits.',
    unit: 'Units of money',
    result: (drivers: string, years: number, tunnels: number) =>
      `Spares about ${drivers} drivers in ${plural(years, 'year')} with ${plural(tunnels, 'tunnel')}.`,
    proven: 'Proven: no programme within these limits spares more.',
    bound: (drivers: string, percent: string) =>
      `Not proven in the time: none spares more than ${drivers} (${percent} % above this one).`,
    compare: {
      caption: 'Against the simple order: best ratio of drivers to money first',
      best: 'This plan',
      ratio: 'Simple order',
      difference: 'Difference',
      drivers: 'Drivers spared',
      tunnels: 'Tunnels',
      cost: 'Cost',
      nights: 'Closure nights',
    },
    years: {
      caption: 'Plan by year',
      simpleCaption: 'Simple order by year',
      showSimple: 'The simple order, year by year',
      year: 'Year',
      tunnels: 'Tunnels',
      cost: 'Cost',
      nights: 'Nights',
      avoided: 'Avoided a day by then',
      nothing: 'nothing',
      count: (tunnels: number) => plural(tunnels, 'tunnel'),
      sum: 'Together',
      of: (limit: string) => `of ${limit}`,
    },
    next: {
      title: 'What more money would buy',
      step: (extra: string, budget: string, drivers: string) =>
        `${extra} more in each year (${budget} a year) would spare ${drivers} more drivers`,
      adds: (names: string) => `; it adds ${names}`,
      earlier: (names: string) => `; earlier than now: ${names}`,
      proven: 'No smaller step does anything.',
      unproven: 'A smaller step may do: this was not proven in the time.',
      'all done': 'Nothing: everything that helps is done in the first year.',
      'nights lacking': 'Nothing: closure nights are lacking, not money.',
      unknown: 'It could not be found out in the time.',
    },
    curve: {
      title: 'Money against drivers spared',
      xAxis: 'Budget in a year, units of money',
      yAxis: 'Drivers spared',
      here: 'your budget',
      point: 'Budget',
      readout: (budget: string, drivers: string, tunnels: number, cost: string) =>
        `${budget} a year: ${drivers} drivers spared, ${plural(tunnels, 'tunnel')}, ${cost} spent`,
      unproven: 'at least',
      value: (drivers: string, budget: string) => `${drivers} at ${budget}`,
      use: 'Plan with this budget',
      summary: (least: string, leastDrivers: string, most: string, mostDrivers: string) =>
        `From ${least} a year, which spares ${leastDrivers} drivers, to ${most} a year, which spares ${mostDrivers}. Each point is a plan of its own.`,
      table: 'The curve as a table',
      columns: {
        budget: 'Budget in a year',
        drivers: 'Drivers spared',
        tunnels: 'Tunnels',
        cost: 'Spent',
        proof: 'Proof',
      },
      isProven: 'proven',
      notProven: 'at least',
      flat: 'Nothing would be gained at any budget.',
    },
    leftOut: (count: number) => `Not in the programme (${count})`,
    why: {
      'no gain': 'its design avoids nothing',
      'too dear': 'costs more than a year’s budget',
      'too many nights': 'needs more nights than a year has',
      'others first': 'money and nights do more elsewhere',
    } satisfies Record<PlanView['leftOut'][number]['why'], string>,
    equipped: (count: number) => `Equipped already (${count})`,
  },
};
