import type { MapColours } from '../colours.ts';
import type { Icon } from './list-icons.ts';

/** Drawn at this many device pixels a CSS pixel: sharp on every screen in use. */
export const ICON_RATIO = 3;

/** One symbol as pixels, as the map takes it. */
export function paintIcon(icon: Icon, colours: MapColours): ImageData {
  const canvas = document.createElement('canvas');
  const c = paintOn(canvas, icon, colours);
  return c.getImageData(0, 0, canvas.width, canvas.height);
}

/** Paints a symbol on a canvas, which takes its size; for the legend. */
export function paintOn(
  canvas: HTMLCanvasElement,
  icon: Icon,
  colours: MapColours,
): CanvasRenderingContext2D {
  canvas.width = icon.sizePx * ICON_RATIO;
  canvas.height = icon.sizePx * ICON_RATIO;
  const c = canvas.getContext('2d', { willReadFrequently: true });
  if (c === null) throw new Error('no 2D canvas');
  c.scale(ICON_RATIO, ICON_RATIO);
  c.translate(icon.sizePx / 2, icon.sizePx / 2);
  icon.draw(c, colours);
  return c;
}
