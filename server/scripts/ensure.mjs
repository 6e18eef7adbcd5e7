// Runs before `npm start` and `npm test`: installs the locked dependencies and builds, each only when something
// has changed since. Plain Node without dependencies, because they may not be there yet.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '../..');
const [major, minor] = process.versions.node.split('.').map(Number);
if (major < 20 || (major === 20 && minor < 19)) {
  console.error(`Boremark needs Node 20.19 or newer, this is ${process.versions.node}.`);
  process.exit(1);
}

const lock = hashFiles([join(root, 'package-lock.json')], process.versions.modules);
if (read('node_modules/.boremark-installed') !== lock) {
  console.log('Installing the locked dependencies (once) …');
  // No dependency needs an install script; none may run one.
  run('npm', ['ci', '--ignore-scripts', '--no-audit', '--no-fund', '--include=dev']);
  writeFileSync(join(root, 'node_modules/.boremark-installed'), lock);
}

const sources = ['web', 'server', 'shared'].flatMap((folder) => listFiles(join(root, folder)));
const configs = ['vite.config.ts', 'vite.server.config.ts', 'package-lock.json'].map((name) =>
  join(root, name),
);
const source = hashFiles([...sources, ...configs], '');
if (read('dist/.boremark-built') !== source) {
  console.log('Building (only after a change) …');
  run(process.execPath, [join(root, 'server/scripts/build.mjs')]);
  writeFileSync(join(root, 'dist/.boremark-built'), source);
}

function run(command, args) {
  // Output goes to a buffer so that a good run stays quiet and a failed one shows everything.
  const done = spawnSync(command, args, { cwd: root, encoding: 'utf8' });
  if (done.status === 0) return;
  process.stderr.write(`${done.stdout ?? ''}${done.stderr ?? ''}${done.error?.message ?? ''}\n`);
  process.exit(done.status ?? 1);
}

function read(name) {
  const path = join(root, name);
  return existsSync(path) ? readFileSync(path, 'utf8') : undefined;
}

function listFiles(folder) {
  return readdirSync(folder)
    .sort()
    .map((name) => join(folder, name))
    .flatMap((path) => (statSync(path).isDirectory() ? listFiles(path) : [path]))
    .filter((path) => !path.endsWith('.test.ts'));
}

function hashFiles(paths, salt) {
  const hash = createHash('sha256').update(salt);
  for (const path of paths)
    if (existsSync(path)) hash.update(path.slice(root.length)).update(readFileSync(path));
  return hash.digest('hex');
}
