/**
 * A small model of Overpass QL: parses the statements that our question uses, strictly, and runs them on a handful
 * of elements. Simpler than the engine: a way is in an area when one of its nodes is, and distances are planar.
 */
export type Element = {
  readonly type: 'node' | 'way' | 'relation';
  readonly id: number;
  readonly lat?: number;
  readonly lon?: number;
  readonly nodes?: readonly number[];
  readonly members?: readonly { type: string; ref: number; role: string }[];
  readonly tags?: Readonly<Record<string, string>>;
};

/** What one `out` statement printed: the elements, and how much of each. */
export type Printed = { readonly mode: 'body' | 'skel'; readonly elements: readonly Element[] };

type Sets = Map<string, ReadonlySet<Element>>;

/** Runs a question; throws for any statement or filter that is not of the modelled language, or reads an unset set. */
export function runQuery(query: string, data: readonly Element[]): Printed[] {
  const [settings, ...statements] = splitStatements(query);
  if (!/^\[out:json\]\[timeout:\d+\]\[maxsize:\d+\]$/.test(settings ?? '')) {
    throw new Error(`settings: ${settings}`);
  }
  const sets: Sets = new Map();
  const printed: Printed[] = [];
  for (const statement of statements) {
    const out = /^\.(\w+) out (body|skel) qt$/.exec(statement);
    if (out === null) runStatement(statement, data, sets);
    else printed.push({ mode: out[2] as Printed['mode'], elements: [...readSet(sets, out[1])] });
  }
  return printed;
}

function runStatement(statement: string, data: readonly Element[], sets: Sets): ReadonlySet<Element> {
  const [, body, into] = /^([\s\S]*?)(?:->\.(\w+))?$/.exec(statement) as RegExpExecArray;
  const found = body?.startsWith('(') ? runBlock(body, data, sets) : runSelection(body ?? '', data, sets);
  if (into !== undefined) sets.set(into, found);
  return found;
}

/** A union `(a; b;)` or a difference `(a; - b;)`. */
function runBlock(block: string, data: readonly Element[], sets: Sets): ReadonlySet<Element> {
  if (!block.endsWith(')')) throw new Error(`block: ${block}`);
  const parts = splitStatements(block.slice(1, -1));
  const second = parts[1];
  if (second?.startsWith('-')) {
    if (parts.length !== 2) throw new Error('a difference takes two operands');
    const without = runStatement(second.slice(1).trim(), data, sets);
    return new Set([...runStatement(parts[0] ?? '', data, sets)].filter((element) => !without.has(element)));
  }
  return new Set(parts.flatMap((part) => [...runStatement(part, data, sets)]));
}

/** `.set`, or a type with filters: `way.set["key"~"value"](around.set:10)`. */
function runSelection(text: string, data: readonly Element[], sets: Sets): ReadonlySet<Element> {
  const alone = /^\.(\w+)$/.exec(text);
  if (alone !== null) return readSet(sets, alone[1]);
  const [, type, filters] = /^(node|way|rel)([.[(][\s\S]*)$/.exec(text) ?? [];
  if (type === undefined || filters === undefined) throw new Error(`statement: ${text}`);
  const wanted = type === 'rel' ? 'relation' : type;
  let found = data.filter((element) => element.type === wanted);
  for (const filter of splitFilters(filters)) {
    const passes = readFilter(filter, data, sets);
    found = found.filter(passes);
  }
  return new Set(found);
}

type Test = (element: Element) => boolean;

function readFilter(filter: string, data: readonly Element[], sets: Sets): Test {
  if (filter.startsWith('.')) return (element) => readSet(sets, filter.slice(1)).has(element);
  if (filter.startsWith('[')) return readTagFilter(filter);
  const recursed = /^\((w|r|bn|bw)\.(\w+)\)$/.exec(filter);
  if (recursed !== null) return readRecursion(recursed[1] ?? '', readSet(sets, recursed[2]));
  const around = /^\(around\.(\w+):(\d+\.\d{7})\)$/.exec(filter);
  if (around !== null) return readAround(readSet(sets, around[1]), Number(around[2]), data);
  return readArea(filter, data);
}

function readTagFilter(filter: string): Test {
  const [, key, operator, value] = /^\["([^"]+)"(?:(=|!=|~|!~)"([^"]*)")?\]$/.exec(filter) ?? [];
  if (key === undefined) throw new Error(`filter: ${filter}`);
  const pattern = new RegExp(operator?.endsWith('~') ? (value ?? '') : '');
  return ({ tags = {} }) => {
    const tag = tags[key];
    if (operator === undefined) return tag !== undefined;
    if (operator === '=') return tag === value;
    if (operator === '!=') return tag !== value;
    return (tag !== undefined && pattern.test(tag)) === (operator === '~');
  };
}

function readRecursion(flag: string, from: ReadonlySet<Element>): Test {
  const ids = (type: string) => new Set([...from].filter((one) => one.type === type).map((one) => one.id));
  const members = (type: string) =>
    new Set([...from].flatMap((one) => (one.members ?? []).filter((m) => m.type === type).map((m) => m.ref)));
  const nodesOfWays = new Set([...from].flatMap((one) => one.nodes ?? []));
  const nodeIds = ids('node');
  const wayIds = ids('way');
  if (flag === 'w') return (element) => nodesOfWays.has(element.id);
  if (flag === 'r') return (element) => members(element.type).has(element.id);
  if (flag === 'bn') return (element) => (element.nodes ?? []).some((node) => nodeIds.has(node));
  return ({ members: list = [] }) => list.some((member) => member.type === 'way' && wayIds.has(member.ref));
}

function readArea(filter: string, data: readonly Element[]): Test {
  const number = '-?\\d+\\.\\d{7}';
  const box = new RegExp(`^\\((${number}),(${number}),(${number}),(${number})\\)$`).exec(filter);
  const poly = new RegExp(`^\\(poly:"(${number}(?: ${number})*)"\\)$`).exec(filter);
  const isIn = (lon: number, lat: number): boolean => {
    if (box !== null) {
      const [south = 0, west = 0, north = 0, east = 0] = box.slice(1).map(Number);
      if (south > north || west > east) throw new Error('bbox order: south, west, north, east');
      return lat >= south && lat <= north && lon >= west && lon <= east;
    }
    const numbers = poly?.[1]?.split(' ').map(Number) ?? [];
    const ring = Array.from({ length: numbers.length / 2 }, (_, i) => [numbers[2 * i + 1], numbers[2 * i]]);
    return isInRing(lon, lat, ring as [number, number][]);
  };
  if (box === null && poly === null) throw new Error(`filter: ${filter}`);
  const positions = positionsOf(data);
  return (element) =>
    element.type === 'relation'
      ? (element.members ?? []).some((m) => data.some((way) => way.type === 'way' && way.id === m.ref))
      : positions(element).some(([lon, lat]) => isIn(lon, lat));
}

function isInRing(lon: number, lat: number, ring: readonly [number, number][]): boolean {
  return ring.reduce((inside, [x, y], i) => {
    const [px, py] = ring.at(i - 1) as [number, number];
    const crosses = y > lat !== py > lat && lon < ((px - x) * (lat - y)) / (py - y) + x;
    return crosses ? !inside : inside;
  }, false);
}

function readAround(from: ReadonlySet<Element>, radiusM: number, data: readonly Element[]): Test {
  const positions = positionsOf(data);
  const lines = [...from].map(positions);
  return (element) => {
    const line = positions(element);
    return lines.some((other) => distanceM(line, other) <= radiusM || distanceM(other, line) <= radiusM);
  };
}

/** Least distance from a corner of one line to the other line, in metres, on a plane. */
function distanceM(corners: readonly [number, number][], line: readonly [number, number][]): number {
  const scale = 111_195;
  let least = Number.POSITIVE_INFINITY;
  for (const [lon, lat] of corners) {
    const east = scale * Math.cos((lat * Math.PI) / 180);
    const local = line.map(([x, y]) => [(x - lon) * east, (y - lat) * scale] as const);
    for (const [i, [x, y]] of local.entries()) {
      const [nx, ny] = local[i + 1] ?? [x, y];
      const lengthSquared = (nx - x) ** 2 + (ny - y) ** 2;
      const t =
        lengthSquared === 0 ? 0 : Math.max(0, Math.min(1, -(x * (nx - x) + y * (ny - y)) / lengthSquared));
      least = Math.min(least, Math.hypot(x + t * (nx - x), y + t * (ny - y)));
    }
  }
  return least;
}

function positionsOf(data: readonly Element[]): (element: Element) => [number, number][] {
  const nodes = new Map(data.filter((one) => one.type === 'node').map((node) => [node.id, node]));
  return (element) =>
    (element.nodes?.map((id) => nodes.get(id)) ?? [element]).flatMap((node) =>
      node?.lon === undefined || node.lat === undefined ? [] : [[node.lon, node.lat]],
    );
}

function readSet(sets: Sets, name = ''): ReadonlySet<Element> {
  const set = sets.get(name);
  if (set === undefined) throw new Error(`set .${name} is read before it is written`);
  return set;
}

/** Splits at the semicolons that stand outside brackets and quotes; each statement must end with one. */
function splitStatements(text: string): string[] {
  const parts = splitOutside(text, (character) => character === ';');
  if (parts.pop()?.trim() !== '') throw new Error('a statement does not end with a semicolon');
  return parts.map((part) => part.trim());
}

function splitFilters(text: string): string[] {
  const filters = text.match(/\.\w+|\["[^"]*"(?:[!=~]+"[^"]*")?\]|\((?:"[^"]*"|[^()"])*\)/g) ?? [];
  if (filters.join('') !== text) throw new Error(`filters: ${text}`);
  return filters;
}

function splitOutside(text: string, isEnd: (character: string) => boolean): string[] {
  const parts = [''];
  let depth = 0;
  let quoted = false;
  for (const character of text) {
    if (character === '"') quoted = !quoted;
    if (!quoted && '(['.includes(character)) depth += 1;
    if (!quoted && ')]'.includes(character)) depth -= 1;
    if (depth < 0) throw new Error('a bracket is closed that was not opened');
    if (!quoted && depth === 0 && isEnd(character)) parts.push('');
    else parts[parts.length - 1] += character;
  }
  if (depth !== 0 || quoted) throw new Error('a bracket or quote is left open');
  return parts;
}
