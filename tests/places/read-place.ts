import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readExtractFile } from '../../server/extracts/read-extract.ts';
import { buildNetwork, NETWORK_RULES } from '../../shared/network/build-network.ts';
import { type PlaceCase, placeCase } from './place-case.ts';

/** Real extracts that are tests of their own; every other folder is a place with a case and a golden. */
const NO_CASE: ReadonlySet<string> = new Set(['liechtenstein']);

/** The names of the places, sorted: every folder beside this file. */
export function listPlaces(): readonly string[] {
  return readdirSync(import.meta.dirname, { withFileTypes: true })
    .filter((entry) => entry.isDirectory() && !NO_CASE.has(entry.name))
    .map((entry) => entry.name)
    .sort();
}

/** The path of a file of a place, whether it is there or not. */
export function pathInPlace(name: string, file: 'place.osm' | 'case.json' | 'golden.json'): string {
  return join(import.meta.dirname, name, file);
}

/** Reads what was worked out by hand; throws where `case.json` is missing or says anything that is not looked at. */
export function getCase(name: string): PlaceCase {
  return placeCase.parse(JSON.parse(readFileSync(pathInPlace(name, 'case.json'), 'utf8')));
}

/** The accepted bytes, or undefined where none have been accepted. */
export function findGolden(name: string): string | undefined {
  const path = pathInPlace(name, 'golden.json');
  return existsSync(path) ? readFileSync(path, 'utf8') : undefined;
}

/** Reads the drawing as the program reads any file, and builds its network. Throws where it is refused. */
export async function buildPlace(name: string) {
  const extract = await readExtractFile(pathInPlace(name, 'place.osm'));
  if (!extract.ok) throw new Error(`${name}/place.osm: ${extract.refusal.code}`);
  const { value: network, findings } = buildNetwork(extract.value, NETWORK_RULES);
  return { extract: extract.value, network, findings };
}
