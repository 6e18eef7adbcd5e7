import type { MapColours } from '../colours.ts';
import { drawBeacon } from './draw-beacon.ts';
import {
  drawArrowHead,
  drawBadge,
  drawBay,
  drawDoor,
  drawExitArrow,
  drawFinding,
  drawFork,
  drawPhone,
  drawThroughArrow,
} from './draw-marks.ts';
import { drawDeadEnd, drawEdge, drawPortal } from './draw-portal.ts';

/** One symbol of the map: `draw` paints it around the origin, up is north, sizes in CSS pixels. */
export type Icon = {
  readonly name: string;
  readonly sizePx: number;
  draw(c: CanvasRenderingContext2D, colours: MapColours): void;
};

/** Every symbol, once: the map and its legend draw the same ones. */
export const ICONS: readonly Icon[] = [
  { name: 'bore-arrow', sizePx: 14, draw: drawArrowHead },
  { name: 'portal-in', sizePx: 26, draw: (c, colours) => drawPortal(c, colours, 'in') },
  { name: 'portal-out', sizePx: 26, draw: (c, colours) => drawPortal(c, colours, 'out') },
  { name: 'portal-both', sizePx: 26, draw: (c, colours) => drawPortal(c, colours, 'both') },
  { name: 'portal-dead-end', sizePx: 26, draw: drawDeadEnd },
  { name: 'portal-edge', sizePx: 26, draw: drawEdge },
  { name: 'exit-arrow', sizePx: 30, draw: drawExitArrow },
  { name: 'through-arrow', sizePx: 30, draw: drawThroughArrow },
  { name: 'decision-underground', sizePx: 24, draw: (c, colours) => drawFork(c, colours, true) },
  { name: 'decision-after-portal', sizePx: 24, draw: (c, colours) => drawFork(c, colours, false) },
  { name: 'exit-badge', sizePx: 22, draw: drawBadge },
  ...(['spacing', 'portal', 'decision', 'branch', 'manual'] as const).map((role) => ({
    name: `beacon-${role}`,
    sizePx: 20,
    draw: (c: CanvasRenderingContext2D, colours: MapColours) => drawBeacon(c, colours, role),
  })),
  { name: 'emergency-exit', sizePx: 18, draw: drawDoor },
  { name: 'emergency-phone', sizePx: 18, draw: drawPhone },
  { name: 'lay-by', sizePx: 18, draw: drawBay },
  ...(['info', 'warning', 'error'] as const).map((severity) => ({
    name: `finding-${severity}`,
    sizePx: 22,
    draw: (c: CanvasRenderingContext2D, colours: MapColours) => drawFinding(c, colours, severity),
  })),
];
