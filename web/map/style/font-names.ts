/** Names by which the style's layers ask for the bundled faces; a wrong one falls back silently. */
export const REGULAR = 'IBM Plex Sans';
export const BOLD = 'IBM Plex Sans Bold';
export const ITALIC = 'IBM Plex Sans Italic';
