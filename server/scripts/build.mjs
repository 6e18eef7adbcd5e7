// Builds the web app to dist/web and the server with the command line to dist/server.
import { chmodSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const root = join(dirname(fileURLToPath(import.meta.url)), '../..');
await build({ configFile: join(root, 'vite.config.ts') });
await build({ configFile: join(root, 'vite.server.config.ts') });
chmodSync(join(root, 'dist/server/cli.js'), 0o755);
