import { ROLES, type Role } from '../../shared/wire/accounts.ts';

/** Who may ask a route. */
export type Permission = {
  /** The least role; `anyone` needs none. */
  readonly role: Role | 'anyone';
  /** Whether who came by a share link may, too: for the survey that the link shows. */
  readonly isShared?: true;
};

const anyone: Permission = { role: 'anyone' };
const reader: Permission = { role: 'reader' };
const shared: Permission = { role: 'reader', isShared: true };
const planner: Permission = { role: 'planner' };
const administrator: Permission = { role: 'administrator' };

/**
 * Every route of the API, as openapi.json and /ogc/api name it; tests hold them together. What is not here is refused to
 * everybody. The page itself, its description and the exports' schemas hold nothing of anybody.
 */
export const WHO_MAY: Readonly<Record<string, Permission>> = {
  'GET /api/config': anyone,
  'GET /api/openapi.json': anyone,
  'GET /api/docs': anyone,
  'GET /api/session': anyone,
  'POST /api/session': anyone,
  'DELETE /api/session': anyone,
  'POST /api/session/share': anyone,
  'PUT /api/account/password': reader,
  'GET /api/account/sessions': reader,
  'DELETE /api/account/sessions/{sessionId}': reader,
  'GET /api/accounts': administrator,
  'POST /api/accounts': administrator,
  'PATCH /api/accounts/{accountId}': administrator,
  'POST /api/accounts/{accountId}/password': administrator,
  'DELETE /api/accounts/{accountId}/sessions': administrator,
  'GET /api/surveys': shared,
  'POST /api/surveys': planner,
  'POST /api/overpass-preview': planner,
  'GET /api/surveys/{id}': shared,
  'PATCH /api/surveys/{id}': planner,
  'DELETE /api/surveys/{id}': planner,
  'GET /api/surveys/{id}/events': reader,
  'GET /api/surveys/{id}/changes': shared,
  'GET /api/surveys/{id}/layers/{layer}': shared,
  'GET /api/surveys/{id}/report': shared,
  'GET /api/surveys/{id}/export': shared,
  'POST /api/surveys/{id}/export': shared,
  'POST /api/surveys/{id}/export-preview': shared,
  'GET /api/surveys/{id}/complexes/{complexId}': shared,
  'POST /api/surveys/{id}/complexes/{complexId}/commands': planner,
  'POST /api/surveys/{id}/commands': planner,
  'POST /api/surveys/{id}/candidate': planner,
  'DELETE /api/surveys/{id}/candidate': planner,
  'GET /api/surveys/{id}/comparison': reader,
  'GET /api/surveys/{id}/evidence': shared,
  'PUT /api/surveys/{id}/traffic': planner,
  'DELETE /api/surveys/{id}/traffic': planner,
  'PUT /api/surveys/{id}/existing': planner,
  'DELETE /api/surveys/{id}/existing': planner,
  // Who did what when is told to those who work on it alone.
  'GET /api/surveys/{id}/revisions': reader,
  'GET /api/surveys/{id}/revisions/{revision}/comparison': reader,
  'POST /api/surveys/{id}/revisions/{revision}/restore': planner,
  'GET /api/surveys/{id}/drives': shared,
  'DELETE /api/surveys/{id}/drives': planner,
  'POST /api/surveys/{id}/ranking': shared,
  'POST /api/surveys/{id}/programme': shared,
  'GET /api/surveys/{id}/shares': planner,
  'POST /api/surveys/{id}/shares': planner,
  'DELETE /api/surveys/{id}/shares/{shareId}': planner,
  // It asks itself whether a share link shows the survey.
  'GET /tiles/{layer}/{z}/{x}/{y}': shared,
  // A share link's visitor finds the features of its survey alone there.
  'GET /ogc': shared,
  'GET /ogc/': shared,
  'GET /ogc/conformance': shared,
  'GET /ogc/api': shared,
  'GET /ogc/collections': shared,
  'GET /ogc/collections/{collectionId}': shared,
  'GET /ogc/collections/{collectionId}/items': shared,
  'GET /ogc/collections/{collectionId}/items/{featureId}': shared,
  'GET /ogc/style.css': anyone,
};

/** Where the API begins; beside it there are only public files. */
const GUARDED = /^\/(api|ogc|tiles)(\/|$)/;

const ROUTES = Object.entries(WHO_MAY).map(([route, permission]) => {
  const [method = '', path = ''] = route.split(' ');
  const pattern = new RegExp(`^${path.replaceAll('.', '\\.').replace(/\{(\w+)\}/g, '(?<$1>[^/]+)')}$`);
  return { method, pattern, permission };
});

/**
 * Who may ask this, and the survey that it is about; `undefined` where no route is known: nobody may. Reading the
 * head of an answer is as reading it.
 */
export function findPermission(
  method: string,
  path: string,
): (Permission & { readonly surveyId?: string }) | undefined {
  if (!GUARDED.test(path)) return anyone;
  const asked = method === 'HEAD' ? 'GET' : method;
  for (const { method: known, pattern, permission } of ROUTES) {
    const found = known === asked ? pattern.exec(path) : null;
    if (found === null) continue;
    const id = path.startsWith('/api/surveys/') ? found.groups?.id : undefined;
    return id === undefined ? permission : { ...permission, surveyId: decode(id) };
  }
  return undefined;
}

/** Whether a role is enough. */
export function isEnough(role: Role, least: Permission['role']): boolean {
  return least === 'anyone' || ROLES.indexOf(role) >= ROLES.indexOf(least);
}

function decode(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}
