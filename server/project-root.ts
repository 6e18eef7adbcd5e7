import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';

/** The project's folder, seen from source (`server/`) or from a build (`dist/server/`). */
export function findProjectRoot(from: string): string {
  let folder = from;
  while (!existsSync(join(folder, 'package.json'))) {
    const parent = dirname(folder);
    if (parent === folder) throw new Error(`no package.json above ${from}`);
    folder = parent;
  }
  return folder;
}
