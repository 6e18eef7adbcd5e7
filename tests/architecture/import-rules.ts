/** One import: the file that has it and what it names, both seen from the project's root; packages by their name. */
export type ImportEdge = { readonly file: string; readonly target: string };

/**
 * The rooms of the pure core from the ground up. A room may use the rooms before it, never one after it, so that
 * each can be read without the others.
 */
const CORE_ORDER = [
  'geodesy',
  'outcome',
  'solver',
  'osm',
  'network',
  'alignment',
  'radio',
  'placement',
  'scheme',
  'assurance',
  'drive',
  'ranking',
  'wire',
  'export',
  'pipeline',
  'tiles',
];

/** The pair that stands against the order and is meant: `network` measures with a ruler, and an address names a link. */
const MEANT = new Set(['network → alignment']);

/** Packages that only one room may use. */
const ONLY_IN: Readonly<Record<string, readonly string[]>> = {
  'maplibre-gl': ['web/map'],
  react: [
    'web/app',
    'web/accounts',
    'web/survey',
    'web/evidence',
    'web/ranking',
    'web/design',
    'web/hand-over',
    'web/map',
    'web/ui',
    'web/main.tsx',
  ],
  'react-dom': ['web/app', 'web/main.tsx', 'web/ui'],
  hono: ['server'],
  '@hono/': ['server'],
  pino: ['server'],
  'node:': ['server'],
};

/** One line for every import that breaks a rule, naming the two rooms. */
export function findBrokenRules(edges: readonly ImportEdge[]): string[] {
  return edges.flatMap((edge) => {
    const why = whyBroken(edge);
    return why === undefined ? [] : [`${roomOf(edge.file)} → ${roomOf(edge.target)}: ${why} (${edge.file})`];
  });
}

function whyBroken({ file, target }: ImportEdge): string | undefined {
  const [top, room] = file.split('/');
  const [targetTop, targetRoom] = target.split('/');
  const isOurs = ['web', 'server', 'shared'].includes(targetTop ?? '');
  if (!isOurs) return whyPackage(file, target);
  if (top === 'web' && targetTop === 'server') return 'they speak through shared/wire';
  if (top === 'server' && targetTop === 'web') return 'they speak through shared/wire';
  if (top !== 'shared') return undefined;
  if (targetTop !== 'shared') return 'the core knows neither server nor web';
  if (room === targetRoom || MEANT.has(`${room} → ${targetRoom}`)) return undefined;
  const [from, to] = [CORE_ORDER.indexOf(room ?? ''), CORE_ORDER.indexOf(targetRoom ?? '')];
  if (from < 0 || to < 0) return 'a room that the order does not know';
  return to < from ? undefined : 'a room may only use the rooms before it';
}

function whyPackage(file: string, target: string): string | undefined {
  const rule = Object.entries(ONLY_IN).find(([name]) =>
    /[/:]$/.test(name) ? target.startsWith(name) : target === name || target.startsWith(`${name}/`),
  );
  if (rule === undefined) return undefined;
  const isAllowed = rule[1].some((room) => file === room || file.startsWith(`${room}/`));
  return isAllowed ? undefined : `only ${rule[1].join(', ')} may use it`;
}

function roomOf(path: string): string {
  const [top, room] = path.split('/');
  if (top !== 'web' && top !== 'server' && top !== 'shared') return path;
  return room === undefined || /\.tsx?$/.test(room) ? top : `${top}/${room}`;
}
