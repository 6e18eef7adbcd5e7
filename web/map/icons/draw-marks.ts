import type { MapColours } from '../colours.ts';

type Canvas = CanvasRenderingContext2D;

/** Direction of travel in a one-way bore; points east, along its line. */
export function drawArrowHead(c: Canvas, colours: MapColours): void {
  c.strokeStyle = colours.ink;
  c.lineWidth = 1.7;
  c.lineCap = 'round';
  c.lineJoin = 'round';
  c.beginPath();
  c.moveTo(-4.5, 0);
  c.lineTo(4.5, 0);
  c.moveTo(1, -3.3);
  c.lineTo(4.6, 0);
  c.lineTo(1, 3.3);
  c.stroke();
}

/** A bold arrow: this branch leaves the main carriageway. */
export function drawExitArrow(c: Canvas, colours: MapColours): void {
  const path = () => {
    c.beginPath();
    c.moveTo(-2.6, 12);
    c.lineTo(-2.6, -2);
    c.lineTo(-7, -2);
    c.lineTo(0, -12);
    c.lineTo(7, -2);
    c.lineTo(2.6, -2);
    c.lineTo(2.6, 12);
    c.closePath();
  };
  c.lineJoin = 'round';
  path();
  c.strokeStyle = colours.paper;
  c.lineWidth = 3.4;
  c.stroke();
  c.fillStyle = colours.exit;
  c.fill();
}

/** A thin arrow: a way to go that stays on the main carriageway. */
export function drawThroughArrow(c: Canvas, colours: MapColours): void {
  const path = () => {
    c.beginPath();
    c.moveTo(0, 11);
    c.lineTo(0, -9);
    c.moveTo(-4.5, -4);
    c.lineTo(0, -9.5);
    c.lineTo(4.5, -4);
  };
  c.lineCap = 'round';
  c.lineJoin = 'round';
  path();
  c.strokeStyle = colours.paper;
  c.lineWidth = 4.6;
  c.stroke();
  path();
  c.strokeStyle = colours.ink;
  c.lineWidth = 2;
  c.stroke();
}

/** A decision point: a fork in a disc, full underground, hollow in the open air. */
export function drawFork(c: Canvas, colours: MapColours, isUnderground: boolean): void {
  c.beginPath();
  c.arc(0, 0, 9, 0, Math.PI * 2);
  c.fillStyle = isUnderground ? colours.exit : colours.paper;
  c.fill();
  c.strokeStyle = isUnderground ? colours.paper : colours.exit;
  c.lineWidth = 1.7;
  c.stroke();
  c.lineCap = 'round';
  c.lineJoin = 'round';
  c.lineWidth = 1.9;
  c.beginPath();
  c.moveTo(0, 5.2);
  c.lineTo(0, 0.8);
  c.lineTo(-3.7, -4);
  c.moveTo(0, 0.8);
  c.lineTo(3.7, -4);
  c.stroke();
}

/** The ground of the count of a tunnel's exits. */
export function drawBadge(c: Canvas, colours: MapColours): void {
  c.beginPath();
  c.arc(0, 0, 9, 0, Math.PI * 2);
  c.fillStyle = colours.exit;
  c.fill();
  c.strokeStyle = colours.paper;
  c.lineWidth = 1.6;
  c.stroke();
}

/** Emergency exit: an arrow to a door in a green square. */
export function drawDoor(c: Canvas, colours: MapColours): void {
  square(c, colours, colours.rescue);
  c.strokeStyle = colours.paper;
  c.lineWidth = 1.7;
  c.beginPath();
  c.moveTo(-5, 0);
  c.lineTo(1, 0);
  c.moveTo(-1.4, -2.6);
  c.lineTo(1.2, 0);
  c.lineTo(-1.4, 2.6);
  c.stroke();
  c.fillStyle = colours.paper;
  c.fillRect(2.6, -4.4, 2.4, 8.8);
}

/** Emergency phone: what stands on its sign. */
export function drawPhone(c: Canvas, colours: MapColours): void {
  square(c, colours, colours.warning);
  c.fillStyle = colours.paper;
  c.font = '600 6.4px "IBM Plex Sans", sans-serif';
  c.textAlign = 'center';
  c.textBaseline = 'middle';
  c.fillText('SOS', 0, 0.4);
}

/** Lay-by: a kerb that bends away from the road. */
export function drawBay(c: Canvas, colours: MapColours): void {
  square(c, colours, colours.undesigned);
  c.strokeStyle = colours.paper;
  c.lineWidth = 1.8;
  c.lineCap = 'round';
  c.lineJoin = 'round';
  c.beginPath();
  c.moveTo(-4.5, 3);
  c.lineTo(-2.4, 3);
  c.lineTo(-1, -2.6);
  c.lineTo(1, -2.6);
  c.lineTo(2.4, 3);
  c.lineTo(4.5, 3);
  c.stroke();
}

/** A finding: triangle for a warning or an error, disc for a note. */
export function drawFinding(c: Canvas, colours: MapColours, severity: 'info' | 'warning' | 'error'): void {
  const color = { info: colours.undesigned, warning: colours.warning, error: colours.error }[severity];
  c.beginPath();
  if (severity === 'info') {
    c.arc(0, 0, 7.5, 0, Math.PI * 2);
  } else {
    c.moveTo(0, -8.5);
    c.lineTo(9, 7);
    c.lineTo(-9, 7);
    c.closePath();
  }
  c.lineJoin = 'round';
  c.strokeStyle = colours.paper;
  c.lineWidth = 3;
  c.stroke();
  c.fillStyle = color;
  c.fill();
  c.fillStyle = colours.paper;
  // "i" stands on its head as "!".
  const way = severity === 'info' ? -1 : 1;
  c.fillRect(-1, Math.min(-3.6 * way, 1.4 * way), 2, 5);
  c.fillRect(-1, way === 1 ? 3 : -5, 2, 2);
}

function square(c: Canvas, colours: MapColours, fill: string): void {
  c.beginPath();
  c.roundRect(-7, -7, 14, 14, 2.5);
  c.fillStyle = fill;
  c.fill();
  c.strokeStyle = colours.paper;
  c.lineWidth = 1.4;
  c.stroke();
}
