import type { Context, Next } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { refusal } from '../shared/outcome/refusal.ts';
import { toProblem } from './problem.ts';
import { EVIDENCE_LIMIT_BYTES, EVIDENCE_PATHS } from './routes/evidence.ts';
import { isUpload } from './routes/receive-upload.ts';

/** The script of the worker that runs the solver: a worker lives by the policy of its own script. */
const SOLVER_SCRIPT = /^\/assets\/solve-worker-[\w-]+\.js$/;

/**
 * No inline script or style, nothing from elsewhere, unless the operator names a base map. Only the solver's worker may
 * compile WebAssembly.
 */
export function secureHeaders(basemapStyleUrl: string | undefined, publicUrl?: string) {
  const elsewhere = basemapStyleUrl === undefined ? '' : ` ${new URL(basemapStyleUrl).origin}`;
  const toPolicy = (scripts: string) =>
    [
      "default-src 'none'",
      `script-src ${scripts}`,
      "style-src 'self'",
      `img-src 'self' data:${elsewhere}`,
      "font-src 'self'",
      `connect-src 'self'${elsewhere}`,
      "worker-src 'self'",
      "manifest-src 'self'",
      "base-uri 'none'",
      "form-action 'none'",
      "frame-ancestors 'none'",
    ].join('; ');
  const policy = toPolicy("'self'");
  const solverPolicy = toPolicy("'self' 'wasm-unsafe-eval'");
  return async (c: Context, next: Next) => {
    await next();
    c.header('content-security-policy', SOLVER_SCRIPT.test(c.req.path) ? solverPolicy : policy);
    c.header('x-content-type-options', 'nosniff');
    c.header('referrer-policy', 'no-referrer');
    c.header('cross-origin-opener-policy', 'same-origin');
    c.header('cross-origin-resource-policy', 'same-origin');
    if (publicUrl?.startsWith('https:')) c.header('strict-transport-security', 'max-age=31536000');
  };
}

/**
 * Answers under `names` and this machine's own names alone: a page elsewhere whose name was made to point here (DNS
 * rebinding) is refused.
 */
export function refuseForeignHost(names: readonly string[]) {
  return async (c: Context, next: Next): Promise<Response | undefined> => {
    const host = c.req.header('host');
    const isKnown = (name: string) => isLoopback(name) || names.includes(name.toLowerCase());
    if (host !== undefined && !isKnown(nameOf(host))) return toProblem(c, refusal('host-foreign', { host }));
    await next();
    return undefined;
  };
}

/**
 * Another site's page must not change anything here: a browser says where a changing request comes from.
 *
 * @param publicUrl where people open the page, for a proxy in front may call us by another name.
 */
export function refuseForeignOrigin(publicUrl: string | undefined) {
  return async (c: Context, next: Next): Promise<Response | undefined> => {
    const origin = c.req.header('origin');
    const isReading = c.req.method === 'GET' || c.req.method === 'HEAD';
    const isOwn = origin === undefined || origin === publicUrl || hostOf(origin) === c.req.header('host');
    if (!isReading && !isOwn) return toProblem(c, refusal('request-foreign'));
    await next();
    return undefined;
  };
}

/** Far above any batch of edits or outline of an area; uploads stream to disk and have a limit of their own. */
const BODY_LIMIT_BYTES = 1e6;

/** Such bodies are read into memory whole: without a limit one request could take all of it. */
export function limitBody() {
  const limitOther = limitTo(BODY_LIMIT_BYTES);
  const limitEvidence = limitTo(EVIDENCE_LIMIT_BYTES);
  return (c: Context, next: Next) => {
    if (isUpload(c)) return next();
    const isEvidence = c.req.method === 'PUT' && EVIDENCE_PATHS.test(c.req.path);
    return (isEvidence ? limitEvidence : limitOther)(c, next);
  };
}

/** Whether a name or address is this machine's alone. */
export function isLoopback(name: string): boolean {
  return /^(localhost|.+\.localhost|127(\.\d{1,3}){3}|\[?::1\]?)$/i.test(name);
}

function limitTo(maxSize: number) {
  const limit = `${maxSize / 1e6} MB`;
  return bodyLimit({ maxSize, onError: (c) => toProblem(c, refusal('request-too-large', { limit })) });
}

/** A Host header without its port. */
function nameOf(host: string): string {
  return host.replace(/:\d+$/, '');
}

function hostOf(origin: string): string | undefined {
  return URL.canParse(origin) ? new URL(origin).host : undefined;
}
