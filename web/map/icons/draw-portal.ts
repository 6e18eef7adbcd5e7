import type { MapColours } from '../colours.ts';

/** A tunnel's mouth with arrows: up is into the tunnel, down is out of it. */
export function drawPortal(
  c: CanvasRenderingContext2D,
  colours: MapColours,
  direction: 'in' | 'out' | 'both',
): void {
  mouth(c);
  c.fillStyle = direction === 'out' ? colours.paper : colours.ink;
  c.fill();
  outline(c, colours);
  const arrow = direction === 'out' ? colours.ink : colours.paper;
  if (direction === 'both') {
    // Half and half: dark the way in, light the way out.
    c.save();
    mouth(c);
    c.clip();
    c.fillStyle = colours.paper;
    c.fillRect(0, -10, 10, 20);
    c.restore();
    outline(c, colours, 0);
    verticalArrow(c, colours.paper, -3.8, -1);
    verticalArrow(c, colours.ink, 3.7, 1);
  } else {
    verticalArrow(c, arrow, 0, direction === 'in' ? -1 : 1);
  }
}

/** A mouth that is barred: the tunnel ends without a road in the open air. */
export function drawDeadEnd(c: CanvasRenderingContext2D, colours: MapColours): void {
  mouth(c);
  c.fillStyle = colours.paper;
  c.fill();
  outline(c, colours);
  c.strokeStyle = colours.error;
  c.lineWidth = 2.4;
  c.beginPath();
  c.moveTo(-4, -3.5);
  c.lineTo(4, 4.5);
  c.moveTo(4, -3.5);
  c.lineTo(-4, 4.5);
  c.stroke();
}

/** A mouth in broken line: the data end here, the tunnel may not. */
export function drawEdge(c: CanvasRenderingContext2D, colours: MapColours): void {
  mouth(c);
  c.fillStyle = colours.paper;
  c.fill();
  c.setLineDash([3, 2.4]);
  c.strokeStyle = colours.warning;
  c.lineWidth = 2;
  c.stroke();
  c.setLineDash([]);
  c.fillStyle = colours.warning;
  for (const x of [-3.4, 0, 3.4]) {
    c.beginPath();
    c.arc(x, 1, 1.2, 0, Math.PI * 2);
    c.fill();
  }
}

function mouth(c: CanvasRenderingContext2D): void {
  c.beginPath();
  c.moveTo(-8, 8);
  c.lineTo(-8, -0.5);
  c.arc(0, -0.5, 8, Math.PI, 0);
  c.lineTo(8, 8);
  c.closePath();
}

function outline(c: CanvasRenderingContext2D, colours: MapColours, rimPx = 4): void {
  if (rimPx > 0) {
    mouth(c);
    c.strokeStyle = colours.paper;
    c.lineWidth = rimPx;
    c.stroke();
  }
  // The light rim lies outside: the mouth itself is drawn again within it.
  mouth(c);
  c.strokeStyle = colours.ink;
  c.lineWidth = 1.8;
  c.stroke();
}

function verticalArrow(c: CanvasRenderingContext2D, color: string, x: number, way: 1 | -1): void {
  c.strokeStyle = color;
  c.lineWidth = 1.8;
  c.lineCap = 'round';
  c.lineJoin = 'round';
  c.beginPath();
  c.moveTo(x, 0.5 - 4.5 * way);
  c.lineTo(x, 0.5 + 4.5 * way);
  c.moveTo(x - 2.4, 0.5 + 1.8 * way);
  c.lineTo(x, 0.5 + 4.7 * way);
  c.lineTo(x + 2.4, 0.5 + 1.8 * way);
  c.stroke();
}
