const plural = (count: number, one: string, many = `${one}s`) =>
  `${count.toLocaleString('en-GB')} ${count === 1 ? one : many}`;

/** What is said about joining and splitting tunnels, and about a newer extract. */
export const changeWords = {
  grouping: {
    title: 'Why this is one tunnel',
    none: 'One bore, nothing to group.',
    carried: 'When bores are split or joined, rules and moved beacons are carried over.',
    reasons: {
      'shared-nodes': 'the bores join underground',
      'same-name': 'same name, close together',
      'same-ref': 'same road number, close together',
      'tunnel-relation': 'one tunnel relation in the map data',
      'by-hand': 'joined by a person',
      'twin-bore': 'parallel bores of opposite direction',
    } as Readonly<Record<string, string>>,
    bore: (name: string, lengthM: string, heading: string | undefined) =>
      heading === undefined ? `${name}, ${lengthM} m` : `${name}, heading ${heading}, ${lengthM} m`,
    headings: ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'],
    between: (one: string, other: string) => `${one} | ${other}`,
    split: 'Split here',
    splitLong: (one: string, other: string) => `Split: ${one} from ${other}`,
    join: 'Join with another tunnel…',
    joinTitle: (name: string) => `Join ${name} with`,
    filter: 'Filter by name or road number',
    candidates: 'Nearest tunnels of the same kind',
    noCandidate: 'There is no other tunnel of this kind in the survey.',
    noMatch: (filter: string) => `No other tunnel of this kind matches “${filter}”.`,
    farther: (count: number) => `${plural(count, 'more tunnel')} farther away: type a name to find one.`,
    away: (distanceM: string) => `${distanceM} m away`,
    meets: 'meets this tunnel',
    joinDone: (one: string, other: string) =>
      `“${one}” and “${other}” are one tunnel now. Rules and moved beacons were carried over.`,
    splitDone: (one: string, other: string) =>
      `Split: ${one} and ${other} are tunnels of their own now. Rules and moved beacons were carried over.`,
    undone: 'Undone. Rules and moved beacons were carried over.',
    byHand: 'By hand',
    joinedWith: (one: string, other: string) => `joined by hand: ${one} and ${other}`,
    splitFrom: (name: string, way: string) => `split by hand from ${name} (${way})`,
    notThere: 'a bore that is not in the map data',
    undo: 'Undo',
    undoLong: (what: string) => `Undo: ${what}`,
    working: 'Working…',
  },
  update: {
    action: 'Newer map data…',
    actionNote: (survey: string) => `Compare a newer extract with “${survey}”`,
    title: (survey: string) => `Newer map data for ${survey}`,
    intro:
      'A newer extract of the same area is compared with this survey first. Nothing moves before you accept what has changed.',
    now: (name: string, date: string | undefined) =>
      date === undefined ? `In use: ${name}.` : `In use: ${name}, map data of ${date}.`,
    again: 'Ask the map server for the same area again',
    or: 'or',
    replaces: 'Another extract takes the place of the one that waits.',
    dropNow: 'Drop the file to compare it with this survey',
    fromImport: (survey: string) => `Is this newer map data for “${survey}”?`,
    fromImportAction: 'Compare it first…',
    waits: (name: string, date: string | undefined) =>
      date === undefined
        ? `A newer extract waits: ${name}.`
        : `A newer extract waits: ${name}, map data of ${date}.`,
    look: 'Look at what changed',
    later: 'Later',
    sending: (name: string) => `Sending ${name}…`,
    working: (name: string) => `Comparing ${name}`,
    refused: (name: string) => `${name} was not taken as newer map data`,
    ready: (name: string) => `Newer map data for ${name} are ready.`,
    asked: 'the same area',
  },
  changes: {
    title: 'What changed',
    loading: 'Comparing the newer map data with the survey…',
    failed: 'The comparison could not be loaded.',
    none: 'No newer extract waits for this survey.',
    before: 'In use',
    after: 'Newer',
    undated: 'no date',
    nothing: 'Nothing changed for the tunnels of this survey. Adopting only takes over the date of the data.',
    hasChanged:
      'Somebody changed this survey meanwhile, so it was not adopted. This is the comparison as it is now: look again.',
    lists: { tunnels: 'Tunnels', links: 'Links', beacons: 'Beacons' },
    listTitle: 'Show',
    emptyList: {
      tunnels: 'No tunnel appears, vanishes, is joined or is split.',
      links: 'No link is another.',
      beacons: 'No beacon moves.',
    },
    notes: 'Before you accept',
    moreNotes: (count: number) => `and ${count.toLocaleString('en-GB')} more`,
    columns: {
      change: 'Change',
      tunnel: 'Tunnel',
      length: 'Length m',
      link: 'Link',
      shift: 'Shift m',
      chainage: 'Chainage',
      kept: 'Kept',
    },
    complex: {
      appeared: 'appeared',
      vanished: 'vanished',
      joined: 'joined',
      split: 'split',
      changed: 'changed',
    },
    link: {
      appeared: 'appeared',
      vanished: 'vanished',
      split: 'split',
      joined: 'joined',
      moved: 'moved',
    },
    beacon: { moved: 'moved', added: 'added', removed: 'removed' },
    kept: {
      chainage: 'its chainage',
      place: 'its place',
      'place-instead': 'its place, as the link is too short now',
      layout: 'laid anew by the rules',
      none: 'nothing, its bore is gone',
    },
    tookIn: (names: string) => `took in ${names}`,
    cameOut: (names: string) => `out of it came ${names}`,
    ways: (ids: string) => `way ${ids}`,
    locked: 'placed by hand',
    group: (name: string, count: number) => `${name} · ${plural(count, 'beacon')}`,
    greatest: (shiftM: string) => `by at most ${shiftM} m`,
    shiftOf: (shiftM: string) => `shift ${shiftM} m`,
    counts: {
      tunnels: (count: number) => plural(count, 'tunnel'),
      links: (count: number) => plural(count, 'link'),
      beacons: (count: number) => plural(count, 'beacon'),
      unchanged: (tunnels: number, beacons: number) =>
        `${plural(tunnels, 'tunnel')} and ${plural(beacons, 'beacon')} stay as they are.`,
    },
    adopt: 'Adopt this extract',
    adopting: 'Adopting…',
    discard: 'Discard',
    later: 'Leave for later',
    adopted: (name: string, date: string | undefined) =>
      date === undefined
        ? `Adopted: the survey rests on ${name} now.`
        : `Adopted: the survey rests on ${name} now, map data of ${date}.`,
  },
};
