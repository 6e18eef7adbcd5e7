import type { ComplexNetwork } from '../../shared/network/network.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import type { Scheme } from '../../shared/scheme/scheme.ts';
import type { DesignReply, DesignRequest } from './design-worker.ts';
import type { ShownDesign } from './shown-design.ts';

/** Designs one complex again and again. */
export type Designer = {
  /**
   * Resolves with the design, or with undefined where a newer question made this one void. Rejects where the
   * worker cannot be had or fails; the next question starts a new one.
   */
  design(scheme: Scheme): Promise<ShownDesign | undefined>;
  close(): void;
};

/** Opens a complex for designing. */
export type OpenDesigner = (network: ComplexNetwork, rules: Rules) => Designer;

/** The part of a Worker that is used; tests bring their own. */
export type DesignPort = Pick<Worker, 'postMessage' | 'terminate'> & {
  onmessage: ((event: MessageEvent<DesignReply>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
};

type Job = {
  readonly scheme: Scheme;
  readonly resolve: (shown: ShownDesign | undefined) => void;
  readonly reject: (error: Error) => void;
};

/** Makes designers that share one worker. Each has one question under way and keeps only the newest waiting. */
export function createDesigners(startWorker: () => DesignPort = startDesignWorker): OpenDesigner {
  const link = createLink(startWorker);
  let lastKey = 0;
  return (network, rules) => {
    lastKey += 1;
    const key = lastKey;
    let busy = false;
    let waiting: Job | undefined;
    /** The worker that knows this complex. */
    let opened: DesignPort | undefined;

    const run = ({ scheme, resolve, reject }: Job) => {
      busy = true;
      const worker = link.get();
      if (opened !== worker)
        worker.postMessage({ kind: 'open', key, network, rules } satisfies DesignRequest);
      opened = worker;
      link.ask(key, scheme, (reply) => {
        busy = false;
        const next = waiting;
        waiting = undefined;
        if (reply.shown === undefined) reject(new Error(reply.error));
        else resolve(reply.shown);
        if (next !== undefined) run(next);
      });
    };
    return {
      design: (scheme) =>
        new Promise((resolve, reject) => {
          const job: Job = { scheme, resolve, reject };
          if (!busy) return run(job);
          waiting?.resolve(undefined);
          waiting = job;
        }),
      close: () => opened?.postMessage({ kind: 'close', key } satisfies DesignRequest),
    };
  };
}

/** The worker, started when it is first needed and again after it failed; replies go to whoever asked. */
function createLink(startWorker: () => DesignPort) {
  let worker: DesignPort | undefined;
  let lastJob = 0;
  const asked = new Map<number, (reply: DesignReply) => void>();
  const answer = (reply: DesignReply) => {
    const tell = asked.get(reply.job);
    asked.delete(reply.job);
    tell?.(reply);
  };
  const get = (): DesignPort => {
    if (worker !== undefined) return worker;
    const started = startWorker();
    worker = started;
    started.onmessage = ({ data }) => answer(data);
    started.onerror = (event) => {
      worker = undefined;
      started.terminate();
      for (const job of [...asked.keys()]) answer({ job, error: event.message || 'the worker failed' });
    };
    return started;
  };
  return {
    get,
    ask(key: number, scheme: Scheme, tell: (reply: DesignReply) => void) {
      lastJob += 1;
      asked.set(lastJob, tell);
      get().postMessage({ kind: 'design', key, job: lastJob, scheme } satisfies DesignRequest);
    },
  };
}

function startDesignWorker(): DesignPort {
  return new Worker(new URL('./design-worker.ts', import.meta.url), { type: 'module' });
}
