const MAX_LENGTH = 200;

/**
 * The server's own words out of an error page: its paragraphs marked "Error", else the page's title, else its
 * text, without markup, on one line of at most 200 characters. Empty when the page says nothing.
 */
export function findErrorLine(page: string): string {
  const text = page.replace(/<(script|style)\b[\s\S]*?<\/\1\s*>/gi, ' ');
  const errors = [...text.matchAll(/<strong[^<>]*>\s*Error\s*<\/strong>\s*:?([\s\S]*?)<\/p>/gi)];
  const title = /<title[^<>]*>([\s\S]*?)<\/title>/i.exec(text)?.[1];
  const found = errors.length > 0 ? errors.map((error) => toPlain(error[1] ?? '')).join(' ') : '';
  return shorten(found || toPlain(title ?? '') || toPlain(text));
}

const ENTITIES: Readonly<Record<string, string>> = {
  quot: '"',
  amp: '&',
  lt: '<',
  gt: '>',
  apos: "'",
  nbsp: ' ',
};

/** Markup is taken out before entities are read, so that escaped text stays text. */
function toPlain(markup: string): string {
  return markup
    .replace(/<[^<>]*>/g, ' ')
    .replace(/&(?:#(\d{1,6})|(\w{2,6}));/g, (whole, code: string | undefined, name: string | undefined) =>
      code === undefined ? (ENTITIES[name ?? ''] ?? whole) : String.fromCodePoint(Number(code)),
    )
    .replace(/[\p{Cc}\s]+/gu, ' ')
    .trim();
}

function shorten(line: string): string {
  return line.length <= MAX_LENGTH ? line : `${line.slice(0, MAX_LENGTH - 1).trimEnd()}…`;
}
