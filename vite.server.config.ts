import { defineConfig } from 'vite';

/** The server, the command line and the import's worker thread, for plain Node; dependencies stay outside. */
export default defineConfig({
  build: {
    ssr: true,
    outDir: 'dist/server',
    emptyOutDir: true,
    target: 'node20',
    sourcemap: true,
    rollupOptions: {
      input: {
        main: 'server/start.ts',
        cli: 'server/cli.ts',
        'import-worker': 'server/jobs/import-worker.ts',
      },
      output: { entryFileNames: '[name].js', chunkFileNames: '[name].js', format: 'es' },
    },
  },
  logLevel: 'warn',
});
