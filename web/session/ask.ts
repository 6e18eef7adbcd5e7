/** Why a request gave no answer: a refusal of the server with its sentence, or that nobody answered. */
export type ApiProblem = {
  /** A refusal's code, `unreachable` where no server answered, or `fault`. */
  readonly code: string;
  readonly status: number;
  readonly detail: string;
  readonly context: Readonly<Record<string, unknown>>;
};

export type Answer<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problem: ApiProblem };

/** A file that the server made, with its name. */
export type Download = { readonly name: string; readonly blob: Blob };

export type Ask = ReturnType<typeof createAsk>;

/** Asks the server. Nothing throws: a network failure is a problem with the code `unreachable`; `onProblem` hears of every problem. */
export function createAsk(
  fetcher: typeof fetch = (...given) => fetch(...given),
  onProblem: (problem: ApiProblem) => void = () => {},
) {
  const ask = async <T>(path: string, init: RequestInit = {}): Promise<Answer<T>> => {
    const answer = await fetcher(path, init).then(readAnswer<T>, () => fail(UNREACHABLE));
    if (!answer.ok) onProblem(answer.problem);
    return answer;
  };
  const send = <T>(method: string, path: string, body: unknown, signal?: AbortSignal) =>
    ask<T>(path, {
      method,
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(body),
      ...(signal === undefined ? {} : { signal }),
    });
  /** Asks for a file; `onBytes` hears how much of it has come. */
  const file = async (
    path: string,
    body: unknown,
    signal: AbortSignal,
    onBytes: (bytes: number) => void,
  ): Promise<Answer<Download>> => {
    const headers = { 'content-type': 'application/json' };
    const init = { method: 'POST', headers, body: JSON.stringify(body), signal };
    const answer = await fetcher(path, init).then(
      (response) => (response.ok ? readFile(response, onBytes) : readAnswer<Download>(response)),
      () => fail(UNREACHABLE),
    );
    if (!answer.ok && !signal.aborted) onProblem(answer.problem);
    return answer;
  };
  return { ask, send, file };
}

async function readFile(response: Response, onBytes: (bytes: number) => void): Promise<Answer<Download>> {
  const name = /filename="([^"]*)"/.exec(response.headers.get('content-disposition') ?? '')?.[1] ?? 'survey';
  const parts: Uint8Array<ArrayBuffer>[] = [];
  let bytes = 0;
  try {
    const reader = response.body?.getReader();
    for (let next = await reader?.read(); next?.value !== undefined; next = await reader?.read()) {
      parts.push(next.value);
      bytes += next.value.length;
      onBytes(bytes);
    }
  } catch {
    return fail(CUT_SHORT);
  }
  return {
    ok: true,
    value: { name, blob: new Blob(parts, { type: response.headers.get('content-type') ?? '' }) },
  };
}

/** The connection broke while a file was being read. */
const CUT_SHORT: ApiProblem = {
  code: 'cut-short',
  status: 0,
  detail: 'The file did not come as a whole. Try again.',
  context: {},
};

const UNREACHABLE: ApiProblem = {
  code: 'unreachable',
  status: 0,
  detail: 'The server does not answer. Check that it is running, then try again.',
  context: {},
};

async function readAnswer<T>(response: Response): Promise<Answer<T>> {
  const type = response.headers.get('content-type') ?? '';
  if (response.ok) {
    if (response.status === 204) return { ok: true, value: undefined as T };
    try {
      return { ok: true, value: (await response.json()) as T };
    } catch {
      return fail(UNREACHABLE);
    }
  }
  if (type.startsWith('application/problem+json')) {
    const problem = (await response.json().catch(() => undefined)) as ApiProblem | undefined;
    if (problem !== undefined) return fail(problem);
  }
  // A gateway in front of a stopped server answers with a page of its own.
  if (response.status >= 502) return fail(UNREACHABLE);
  const detail = `The server answered ${response.status} ${response.statusText}.`;
  return fail({ code: 'fault', status: response.status, detail, context: {} });
}

function fail(problem: ApiProblem): { readonly ok: false; readonly problem: ApiProblem } {
  return { ok: false, problem };
}
