import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';

/** The web app. Everything is a file of its own (no data: or inline code), as the content security policy asks. */
export default defineConfig({
  root: 'web',
  plugins: [react(), gzipFiles()],
  worker: {
    format: 'es',
    // The solver's loader asks for it in Node only.
    rolldownOptions: { external: ['node:module'] },
  },
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    assetsInlineLimit: 0,
    target: 'es2023',
    modulePreload: { polyfill: false },
    // How long a build took is no warning.
    rolldownOptions: { checks: { bundlerTimings: false } },
    // MapLibre is one lazy chunk of about 1 MB.
    chunkSizeWarningLimit: 1200,
  },
  server: {
    port: 4601,
    proxy: Object.fromEntries(
      ['/api', '/tiles', '/ogc'].map((path) => [path, process.env.BOREMARK_API ?? 'http://127.0.0.1:4600']),
    ),
  },
  logLevel: 'warn',
});

/** Writes a .gz beside each text file, which the server prefers where the browser takes it. */
function gzipFiles(): Plugin {
  return {
    name: 'gzip-files',
    apply: 'build',
    writeBundle({ dir }) {
      if (dir === undefined) return;
      for (const path of listFiles(dir)) {
        if (/\.(js|mjs|css|html|svg|wasm)$/.test(path))
          writeFileSync(`${path}.gz`, gzipSync(readFileSync(path)));
      }
    },
  };
}

function listFiles(folder: string): string[] {
  return readdirSync(folder)
    .map((name) => join(folder, name))
    .flatMap((path) => (statSync(path).isDirectory() ? listFiles(path) : [path]));
}
