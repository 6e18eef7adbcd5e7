import { defineConfig } from 'vite';

/** The server, the command line, their worker threads and the reader by itself (for its bench), for plain Node; dependencies stay outside. */
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
        'task-worker': 'server/jobs/task-worker.ts',
        'solve-thread': 'server/solver/solve-thread.ts',
        'plan-thread': 'server/solver/plan-thread.ts',
        'pbf-worker': 'server/extracts/pbf-worker.ts',
        'read-extract': 'server/extracts/read-extract.ts',
      },
      output: { entryFileNames: '[name].js', chunkFileNames: '[name].js', format: 'es' },
    },
  },
  logLevel: 'warn',
});
