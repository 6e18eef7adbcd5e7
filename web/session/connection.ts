import type { Api } from './api.ts';
import { makeStore } from './make-store.ts';

const FIRST_RETRY_MS = 2_000;
const LONGEST_RETRY_MS = 30_000;

export type Connection = ReturnType<typeof createConnection>;

/** Whether the server answers. Wraps the API: any answer tells; while it is down it is asked again now and then. */
export function createConnection(isUp: Api['isUp'], onBack: () => void) {
  const store = makeStore({ isDown: false });
  let timer: ReturnType<typeof setTimeout> | undefined;
  let retryMs = FIRST_RETRY_MS;

  const retry = async () => {
    clearTimeout(timer);
    if (await isUp()) {
      retryMs = FIRST_RETRY_MS;
      store.set({ isDown: false });
      onBack();
      return;
    }
    timer = setTimeout(() => void retry(), retryMs);
    retryMs = Math.min(LONGEST_RETRY_MS, retryMs * 2);
  };
  return {
    get: store.get,
    subscribe: store.subscribe,
    retry,
    /** To be told by whoever asked the server and got no answer. */
    lost() {
      if (store.get().isDown) return;
      store.set({ isDown: true });
      timer = setTimeout(() => void retry(), retryMs);
    },
  };
}

/** A fetch that reports lost connections. */
export function watchFetch(fetcher: typeof fetch, onLost: () => void): typeof fetch {
  return async (...given) => {
    try {
      const response = await fetcher(...given);
      if ([502, 503, 504].includes(response.status) && !isProblem(response)) onLost();
      return response;
    } catch (error) {
      // Whoever gives a request up has not lost the server.
      if (given[1]?.signal?.aborted !== true) onLost();
      throw error;
    }
  };
}

function isProblem(response: Response): boolean {
  return response.headers.get('content-type')?.startsWith('application/problem+json') ?? false;
}
