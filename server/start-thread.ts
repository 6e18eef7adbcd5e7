import { type ResourceLimits, Worker } from 'node:worker_threads';

/**
 * Starts a worker thread from `name` beside the file at `here` (its `import.meta.url`): the built file where the
 * program is built, the TypeScript source in development and tests, where Node 20 does not hand the loader on to
 * threads. In a build every thread's file stands beside the others, so the folder of the source does not matter.
 */
export function startThread(
  here: string,
  name: string,
  options: { readonly workerData: unknown; readonly resourceLimits: ResourceLimits },
): Worker {
  if (!here.endsWith('.ts')) return new Worker(new URL(`./${name}.js`, here), options);
  const url = JSON.stringify(new URL(`./${name}.ts`, here).href);
  const code = `import('tsx/esm/api').then(({ register }) => { register(); return import(${url}); })`;
  return new Worker(code, { ...options, eval: true });
}
