/** What every page comes as. */
export const FORMATS = ['json', 'html'] as const;
export type Format = (typeof FORMATS)[number];

/** The media types that mean JSON where a page's own is `jsonType`. */
function typesOf(jsonType: string): readonly (readonly [type: string, format: Format])[] {
  return [
    [jsonType.split(';')[0] as string, 'json'],
    ['application/json', 'json'],
    ['text/html', 'html'],
  ];
}

/**
 * The format that an Accept header likes best (RFC 9110, 12.5.1); of what it likes equally, what it names more exactly,
 * then JSON. Undefined where it takes none.
 */
export function chooseFormat(accept: string | undefined, jsonType: string): Format | undefined {
  if (accept === undefined || accept.trim() === '') return 'json';
  const ranges = accept.split(',').map(readRange);
  let best: (Liked & { readonly format: Format }) | undefined;
  for (const [type, format] of typesOf(jsonType)) {
    const liked = howLiked(type, ranges);
    if (liked.quality === 0) continue;
    const isBetter =
      best === undefined ||
      liked.quality > best.quality ||
      (liked.quality === best.quality && liked.exactness > best.exactness);
    if (isBetter) best = { ...liked, format };
  }
  return best?.format;
}

type Range = { readonly type: string; readonly quality: number };
type Liked = { readonly quality: number; readonly exactness: number };

function readRange(text: string): Range {
  const [type = '', ...parameters] = text.split(';').map((part) => part.trim().toLowerCase());
  const q = parameters.find((parameter) => parameter.startsWith('q='))?.slice(2);
  const quality = q === undefined ? 1 : Number(q);
  return { type, quality: quality >= 0 && quality <= 1 ? quality : 0 };
}

/** By the most exact range that a type is in. */
function howLiked(type: string, ranges: readonly Range[]): Liked {
  const group = `${type.split('/')[0]}/*`;
  for (const [exactness, name] of [
    [3, type],
    [2, group],
    [1, '*/*'],
  ] as const) {
    const found = ranges.filter((range) => range.type === name);
    if (found.length > 0) return { quality: Math.max(...found.map(({ quality }) => quality)), exactness };
  }
  return { quality: 0, exactness: 0 };
}
