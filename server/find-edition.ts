import { createHash, randomUUID } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** Another text for every build of the program; from source, another one for every process. */
export function findEdition(here: string = import.meta.url): string {
  if (here.endsWith('.ts')) return randomUUID();
  const folder = dirname(fileURLToPath(here));
  const hash = createHash('sha256');
  for (const file of readdirSync(folder).sort()) {
    if (file.endsWith('.js')) hash.update(readFileSync(join(folder, file)));
  }
  return hash.digest('base64url');
}
