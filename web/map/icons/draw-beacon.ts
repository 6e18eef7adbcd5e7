import type { BeaconRole } from '../../../shared/placement/beacon.ts';
import type { MapColours } from '../colours.ts';

const HALF_PX = 7;

/** The diamond of a planned beacon; what is in it tells its role, not its colour alone. */
export function drawBeacon(c: CanvasRenderingContext2D, colours: MapColours, role: BeaconRole): void {
  diamond(c, HALF_PX);
  c.fillStyle = role === 'manual' ? colours.beacon : colours.paper;
  c.strokeStyle = colours.beacon;
  c.lineWidth = 1.8;
  c.fill();
  c.stroke();
  c.fillStyle = colours.beacon;
  c.beginPath();
  switch (role) {
    case 'portal':
      // Half full, as the tunnel's mouth is half in the open.
      c.moveTo(0, -HALF_PX);
      c.lineTo(HALF_PX, 0);
      c.lineTo(0, HALF_PX);
      c.closePath();
      c.fill();
      break;
    case 'decision':
      c.fillStyle = colours.exit;
      c.arc(0, 0, 2.7, 0, Math.PI * 2);
      c.fill();
      break;
    case 'branch':
      c.fillStyle = colours.exit;
      c.rect(-3.6, -1.1, 7.2, 2.2);
      c.fill();
      break;
    case 'spacing':
    case 'manual':
      break;
  }
}

function diamond(c: CanvasRenderingContext2D, half: number): void {
  c.beginPath();
  c.moveTo(0, -half);
  c.lineTo(half, 0);
  c.lineTo(0, half);
  c.lineTo(-half, 0);
  c.closePath();
}
