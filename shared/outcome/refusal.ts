/**
 * Every expected "no" of the program. The code is for programs, `context` fills the words
 * (words.ts), and `status` is the HTTP status that the server answers with.
 */
export const REFUSALS = {
  // reading an extract
  'input-empty': 400,
  'input-unknown-format': 415,
  'input-html': 415,
  'input-truncated': 400,
  'input-damaged': 400,
  'input-entities': 400,
  'input-expands-too-far': 413,
  'input-too-large': 413,
  'input-coordinates': 400,
  'input-no-tunnels': 422,
  'input-not-readable': 400,
  // counts and inventories
  'table-empty': 400,
  'table-html': 415,
  'table-not-text': 415,
  'table-damaged': 400,
  'table-too-large': 413,
  'table-columns': 422,
  'table-column-twice': 422,
  'inventory-json': 422,
  'inventory-crs': 422,
  'inventory-coordinates': 422,
  // asking an Overpass server
  'area-invalid': 400,
  'area-too-large': 400,
  'overpass-busy': 503,
  'overpass-remark': 502,
  'overpass-html': 502,
  'overpass-damaged': 502,
  'overpass-refused': 502,
  'overpass-unreachable': 502,
  'overpass-too-large': 502,
  // positions on a line
  'chainage-out-of-range': 400,
  // schemes
  'rule-invalid': 400,
  'choice-invalid': 400,
  'rule-not-whole': 400,
  'keep-outs-too-many': 422,
  'log-too-long': 422,
  'window-too-short': 400,
  'beacon-unknown': 404,
  'link-unknown': 404,
  'keep-out-unknown': 404,
  'keep-out-known': 409,
  'keep-out-empty': 400,
  'command-unknown': 404,
  'command-overtaken': 409,
  'revision-stale': 409,
  'revision-unknown': 404,
  'revision-same': 409,
  // which bores are one tunnel, and newer extracts
  'way-unknown': 404,
  'grouping-void': 409,
  'grouping-contradicted': 409,
  'kinds-differ': 422,
  'bores-connected': 422,
  'candidate-unknown': 404,
  'adoption-final': 409,
  // the hand-over
  'hand-over-format': 400,
  'hand-over-layer': 400,
  'hand-over-misfit': 400,
  'hand-over-tunnel': 400,
  'hand-over-empty': 400,
  // the service
  'survey-unknown': 404,
  'complex-unknown': 404,
  'host-foreign': 403,
  'imports-too-many': 429,
  'not-found': 404,
  // reading features (OGC API)
  'collection-unknown': 404,
  'feature-unknown': 404,
  'parameter-unknown': 400,
  'parameter-invalid': 400,
  'format-unavailable': 406,
  // who may
  'sign-in-needed': 401,
  'sign-in-wrong': 401,
  'sign-in-too-often': 429,
  'not-permitted': 403,
  'password-wrong': 403,
  'password-weak': 400,
  'account-unknown': 404,
  'account-known': 409,
  'account-last-administrator': 409,
  'session-unknown': 404,
  'share-unknown': 404,
  'accounts-off': 409,
  // where everything is kept
  'settings-unusable': 400,
  'store-in-use': 503,
  'store-newer': 503,
  'store-unusable': 503,
  'store-unreachable': 503,
  'store-full': 507,
  'store-failed': 503,
  'store-missing': 404,
  'store-not-empty': 409,
  'backup-unusable': 400,
  'request-invalid': 400,
  'request-too-large': 413,
  'request-foreign': 403,
  'job-cancelled': 409,
  'import-failed': 500,
  'job-died': 500,
  'took-too-long': 413,
  'out-of-memory': 413,
  'file-not-writable': 400,
} as const satisfies Record<string, number>;

export type RefusalCode = keyof typeof REFUSALS;

export type RefusalContext = Readonly<Record<string, string | number | boolean>>;

export type Refusal = { readonly code: RefusalCode; readonly context: RefusalContext };

/** Makes a refusal; `context` holds what the words need (file, place, limit, value). */
export function refusal(code: RefusalCode, context: RefusalContext = {}): Refusal {
  return { code, context };
}

/** Carries a refusal through code that can only fail by throwing (streams, parsers). Caught at the stage's edge. */
export class RefusalError extends Error {
  readonly refusal: Refusal;
  constructor(code: RefusalCode, context: RefusalContext = {}) {
    super(code);
    this.name = 'RefusalError';
    this.refusal = refusal(code, context);
  }
}
