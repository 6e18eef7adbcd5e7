import cyrillic from '@fontsource/ibm-plex-sans/files/ibm-plex-sans-cyrillic-400-normal.woff2?url';
import cyrillicBold from '@fontsource/ibm-plex-sans/files/ibm-plex-sans-cyrillic-600-normal.woff2?url';
import greek from '@fontsource/ibm-plex-sans/files/ibm-plex-sans-greek-400-normal.woff2?url';
import greekBold from '@fontsource/ibm-plex-sans/files/ibm-plex-sans-greek-600-normal.woff2?url';
import latinItalic from '@fontsource/ibm-plex-sans/files/ibm-plex-sans-latin-400-italic.woff2?url';
import latin from '@fontsource/ibm-plex-sans/files/ibm-plex-sans-latin-400-normal.woff2?url';
import latinBold from '@fontsource/ibm-plex-sans/files/ibm-plex-sans-latin-600-normal.woff2?url';
import latinExtItalic from '@fontsource/ibm-plex-sans/files/ibm-plex-sans-latin-ext-400-italic.woff2?url';
import latinExt from '@fontsource/ibm-plex-sans/files/ibm-plex-sans-latin-ext-400-normal.woff2?url';
import latinExtBold from '@fontsource/ibm-plex-sans/files/ibm-plex-sans-latin-ext-600-normal.woff2?url';
import type { FontFaces } from './build-style.ts';
import { BOLD, ITALIC, REGULAR } from './font-names.ts';

/** Which characters each file is asked for: a tunnel in Oslo or Athens is labelled from bundled files too. */
const LATIN = ['U+0000-00FF', 'U+0131', 'U+0152-0153', 'U+02BB-02DC', 'U+2000-20CF', 'U+2122', 'U+2190-22FF'];
const LATIN_EXT = ['U+0100-0130', 'U+0132-0151', 'U+0154-02BA', 'U+1E00-1EFF', 'U+2C60-2C7F', 'U+A720-A7FF'];
const GREEK = ['U+0370-03FF'];
const CYRILLIC = ['U+0400-045F', 'U+0490-0491', 'U+04B0-04B1', 'U+2116'];

/** The bundled faces by absolute address, as the style needs them. */
export function getFontFaces(baseUrl: string): FontFaces {
  const face = (url: string, range: string[]) => ({
    url: new URL(url, baseUrl).href,
    'unicode-range': range,
  });
  return {
    [REGULAR]: [face(latin, LATIN), face(latinExt, LATIN_EXT), face(greek, GREEK), face(cyrillic, CYRILLIC)],
    [BOLD]: [
      face(latinBold, LATIN),
      face(latinExtBold, LATIN_EXT),
      face(greekBold, GREEK),
      face(cyrillicBold, CYRILLIC),
    ],
    [ITALIC]: [
      face(latinItalic, LATIN),
      face(latinExtItalic, LATIN_EXT),
      face(greek, GREEK),
      face(cyrillic, CYRILLIC),
    ],
  };
}
