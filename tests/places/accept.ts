import { writeFileSync } from 'node:fs';
import { buildPlace, findGolden, listPlaces, pathInPlace } from './read-place.ts';
import { toGolden } from './to-golden.ts';

/*
 * npx tsx tests/places/accept.ts NAME …
 *
 * Takes what the program finds now in the named places as their goldens. Read the difference before committing:
 * a golden says what was, `case.json` says what is right.
 */

const names = process.argv.slice(2);
const known = listPlaces();
const unknown = names.filter((name) => !known.includes(name));
if (process.env.CI !== undefined && process.env.CI !== '' && process.env.CI !== 'false') {
  console.error('Goldens are never accepted in CI.');
  process.exitCode = 2;
} else if (names.length === 0 || unknown.length > 0) {
  console.error(`Name one or more of: ${known.join(' ')}`);
  process.exitCode = 2;
} else {
  for (const name of names) {
    const { network, findings } = await buildPlace(name);
    const golden = toGolden(network, findings);
    const before = findGolden(name);
    if (golden !== before) writeFileSync(pathInPlace(name, 'golden.json'), golden);
    console.log(`${name}: ${golden === before ? 'unchanged' : before === undefined ? 'new' : 'changed'}`);
  }
}
