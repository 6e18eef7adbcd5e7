/** Stands for the slash of an exported id: it needs no encoding in an address (RFC 3986, 2.3), and no id of ours has it. */
const SLASH = '~';

/**
 * The id of a feature among all surveys: the survey's, a dot, the exported one. The same as long as the exported one is,
 * and one part of an address as it stands.
 */
export function toFeatureId(surveyId: string, exportedId: string): string {
  const id = `${surveyId}.${exportedId.replaceAll('/', SLASH)}`;
  if (surveyId.includes('.') || exportedId.includes(SLASH) || !/^[\w.~-]+$/.test(id)) {
    throw new Error(`${surveyId} and ${exportedId} make no id for an address`);
  }
  return id;
}

/** The survey and the exported id that an id names; undefined where it can be none. */
export function fromFeatureId(id: string): { surveyId: string; exportedId: string } | undefined {
  const dot = id.indexOf('.');
  if (dot <= 0 || dot === id.length - 1 || id.includes('/')) return undefined;
  return { surveyId: id.slice(0, dot), exportedId: id.slice(dot + 1).replaceAll(SLASH, '/') };
}
