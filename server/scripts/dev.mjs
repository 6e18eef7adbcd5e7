// Development: the server from source, restarted at each change, and Vite for the web app with hot reload.
import { spawn } from 'node:child_process';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '../..');
const children = [
  spawn(process.execPath, ['--watch', '--import', 'tsx', 'server/start.ts'], { cwd: root, stdio: 'inherit' }),
  spawn(process.execPath, [join(root, 'node_modules/vite/bin/vite.js')], { cwd: root, stdio: 'inherit' }),
];
const stop = () => {
  for (const child of children) child.kill('SIGTERM');
};
for (const child of children) child.on('exit', stop);
process.on('SIGINT', stop);
process.on('SIGTERM', stop);
