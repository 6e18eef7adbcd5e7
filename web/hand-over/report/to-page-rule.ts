/**
 * The paper: A4 with what the report is about and the page's number below, and who has to be named. Text in the page's
 * margin can only be given by CSS.
 */
export function toPageRule(title: string, attribution: string): string {
  const font = 'font: 400 7.5pt "IBM Plex Sans", sans-serif; color: #4d5a62;';
  return `@page {
  size: A4 portrait;
  margin: 15mm 15mm 19mm;
  @top-left { content: ""; }
  @top-center { content: ""; }
  @top-right { content: ""; }
  @bottom-left { content: ${quote(attribution)}; ${font} text-align: left; width: 68%; }
  @bottom-right { content: ${quote(title.slice(0, 60))} " · " counter(page) " / " counter(pages); ${font} text-align: right; }
}`;
}

/** A CSS string (CSS Syntax 3): what could end it, or is no letter, by its code. */
function quote(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
  return `"${text.replace(/["\\\u0000-\u001F\u007F<>]/g, (one) => `\\${one.charCodeAt(0).toString(16)} `)}"`;
}
