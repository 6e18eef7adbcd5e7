import type { Icon } from './list-icons.ts';

/** What a newer extract would change, in small, for the legend. */
export const CHANGE_SAMPLES: readonly Icon[] = [
  {
    name: 'change-before',
    sizePx: 26,
    draw(c, colours) {
      stroke(c, colours.undesigned, 2, [6, 4]);
    },
  },
  {
    name: 'change-after',
    sizePx: 26,
    draw(c, colours) {
      stroke(c, colours.exit, 5, []);
    },
  },
  {
    name: 'change-shift',
    sizePx: 26,
    draw(c, colours) {
      c.beginPath();
      c.moveTo(-10, 4);
      c.lineTo(5, -3);
      c.strokeStyle = colours.ink;
      c.lineWidth = 1.5;
      c.stroke();
      c.beginPath();
      c.arc(6, -3, 4.5, 0, 2 * Math.PI);
      c.fillStyle = colours.exit;
      c.fill();
    },
  },
  {
    name: 'change-gone',
    sizePx: 26,
    draw(c, colours) {
      c.beginPath();
      c.arc(0, 0, 6.5, 0, 2 * Math.PI);
      c.strokeStyle = colours.error;
      c.lineWidth = 2;
      c.stroke();
    },
  },
];

function stroke(c: CanvasRenderingContext2D, colour: string, widthPx: number, dash: number[]): void {
  c.strokeStyle = colour;
  c.lineWidth = widthPx;
  c.setLineDash(dash);
  c.beginPath();
  c.moveTo(-12, 0);
  c.lineTo(12, 0);
  c.stroke();
  c.setLineDash([]);
}
