import type { Tags } from './extract.ts';

const MAX_SHARED = 100_000;
const MAX_LENGTH = 64;

/**
 * Makes a function that copies tags so that equal texts are stored once, and so that a text cut out of a large
 * buffer does not keep that buffer alive. A key named `__proto__` is left out.
 */
export function makeTagCopier(): (tags: Tags) => Tags {
  const encoder = new TextEncoder();
  const decoder = new TextDecoder('utf-8', { ignoreBOM: true });
  const shared = new Map<string, string>();
  const own = (text: string): string => {
    const known = shared.get(text);
    if (known !== undefined) return known;
    const copy = decoder.decode(encoder.encode(text));
    if (text.length <= MAX_LENGTH && shared.size < MAX_SHARED) shared.set(copy, copy);
    return copy;
  };
  return (tags) => {
    const copy: Record<string, string> = {};
    for (const key in tags) if (key !== '__proto__') copy[own(key)] = own(tags[key] as string);
    return copy;
  };
}
