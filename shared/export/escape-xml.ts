/** What XML 1.0 cannot hold at all, however it is written; half of a pair of surrogates included. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: that is what is looked for
const IMPOSSIBLE = /[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]|\p{Surrogate}/gu;

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&apos;',
};

/** Text for an element or an attribute of XML 1.0. */
export function escapeXml(text: string): string {
  return text.replace(IMPOSSIBLE, '').replace(/[&<>"']/g, (one) => ENTITIES[one] as string);
}
