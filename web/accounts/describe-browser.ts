/** Asked in this order: each calls itself by the names of those after it, too. */
const BROWSERS = [
  ['Edge', /Edg(?:e|A|iOS)?\//],
  ['Opera', /OPR\//],
  ['Firefox', /Firefox\/|FxiOS\//],
  ['Chrome', /Chrome\/|CriOS\/|Chromium\//],
  ['Safari', /Safari\//],
] as const;
const SYSTEMS = [
  ['iPhone', /iPhone/],
  ['iPad', /iPad/],
  ['Android', /Android/],
  ['Windows', /Windows/],
  ['macOS', /Macintosh|Mac OS X/],
  ['Linux', /Linux|X11/],
] as const;

/** `Firefox on Linux`, from what a browser calls itself; what is no browser by its own first word. Undefined for nothing. */
export function describeBrowser(userAgent: string | undefined): string | undefined {
  const given = userAgent?.trim() ?? '';
  if (given === '') return undefined;
  const find = (names: readonly (readonly [string, RegExp])[]) =>
    names.find(([, pattern]) => pattern.test(given))?.[0];
  const browser = find(BROWSERS);
  if (browser === undefined) return given.split(/[\s/]/)[0];
  const system = find(SYSTEMS);
  return system === undefined ? browser : `${browser} on ${system}`;
}
