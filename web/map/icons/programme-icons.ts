import { PROGRAMME_FIELDS } from '../../../shared/ranking/programme.ts';
import { COLOURS, type MapColours } from '../colours.ts';
import { PROGRAMME_COLOURS, toneOf } from '../programme-colours.ts';
import type { Icon } from './list-icons.ts';

/** The icon of a tunnel that is in no year of the programme. */
export const OUT_ICON = 'programme-out';

/** The icon of a year. */
export const yearIcon = (year: number) => `programme-${year}`;

/** A square with the year's number for every year that a programme may have, and a hollow one for what is left out. */
export const PROGRAMME_ICONS: readonly Icon[] = [
  { name: OUT_ICON, sizePx: 20, draw: drawOut },
  ...Array.from({ length: PROGRAMME_FIELDS.years.max }, (_, i) => ({
    name: yearIcon(i + 1),
    sizePx: 24,
    draw: (c: CanvasRenderingContext2D, colours: MapColours) => drawYear(c, colours, i + 1),
  })),
];

function drawYear(c: CanvasRenderingContext2D, colours: MapColours, year: number): void {
  const theme = colours === COLOURS.dark ? 'dark' : 'light';
  c.beginPath();
  c.roundRect(-10, -10, 20, 20, 3);
  c.fillStyle = PROGRAMME_COLOURS[theme][toneOf(year)] as string;
  c.fill();
  c.strokeStyle = colours.paper;
  c.lineWidth = 1.8;
  c.stroke();
  c.fillStyle = colours.paper;
  c.font = '600 13px "IBM Plex Sans", sans-serif';
  c.textAlign = 'center';
  c.textBaseline = 'middle';
  c.fillText(String(year), 0, 1);
}

function drawOut(c: CanvasRenderingContext2D, colours: MapColours): void {
  c.beginPath();
  c.roundRect(-7, -7, 14, 14, 3);
  c.fillStyle = colours.paper;
  c.fill();
  c.strokeStyle = colours.undesigned;
  c.lineWidth = 1.6;
  c.stroke();
  c.fillStyle = colours.undesigned;
  c.fillRect(-3.5, -1, 7, 2);
}
