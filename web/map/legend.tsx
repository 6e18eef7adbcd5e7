import { useEffect, useRef, useState } from 'react';
import { COLOURS, type MapColours, type Theme } from './colours.ts';
import { CHANGE_SAMPLES } from './icons/change-samples.ts';
import { drawBadge } from './icons/draw-marks.ts';
import { ICONS, type Icon } from './icons/list-icons.ts';
import { paintOn } from './icons/paint-icon.ts';
import { PROGRAMME_ICONS } from './icons/programme-icons.ts';
import { type LegendEntry, listLegend } from './list-legend.ts';
import type { MapViewProps } from './map-types.ts';
import { mapWords } from './map-words.ts';

type LegendProps = Pick<MapViewProps, 'theme' | 'show' | 'programme'> & { readonly hasChanges: boolean };

/** What each symbol means: the same drawings as on the map, each with its word. Closed at first: the map comes first. */
export function Legend({ theme, show, hasChanges, programme }: LegendProps) {
  const [isOpen, setIsOpen] = useState(false);
  return (
    <details className="map-legend" open={isOpen} onToggle={(event) => setIsOpen(event.currentTarget.open)}>
      <summary>{mapWords.legend.title}</summary>
      {/* Long on a small screen: it scrolls, so it takes the focus to be scrolled by keys. */}
      <section className="map-legend-body" aria-label={mapWords.legend.title} tabIndex={isOpen ? 0 : -1}>
        {listLegend(show, hasChanges, programme).map(([title, entries]) => (
          <div key={title}>
            <h3>{title}</h3>
            <ul>
              {entries.map((entry) => (
                <li key={entry.word}>
                  <LegendSymbol icon={toIcon(entry)} theme={theme} />
                  {entry.word}
                </li>
              ))}
            </ul>
          </div>
        ))}
      </section>
    </details>
  );
}

function LegendSymbol({ icon, theme }: { icon: Icon; theme: Theme }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    if (canvas.current === null) return;
    paintOn(canvas.current, icon, COLOURS[theme]);
    // By the object model: the page's policy allows no style attributes.
    canvas.current.style.width = `${icon.sizePx}px`;
    canvas.current.style.height = `${icon.sizePx}px`;
  }, [icon, theme]);
  return (
    <span className="map-legend-symbol" aria-hidden="true">
      <canvas ref={canvas} />
    </span>
  );
}

function toIcon({ symbol }: LegendEntry): Icon {
  const icon = [...ICONS, ...SAMPLES, ...CHANGE_SAMPLES, ...PROGRAMME_ICONS].find(
    (candidate) => candidate.name === symbol,
  );
  if (icon === undefined) throw new Error(`no symbol is called ${symbol}`);
  return icon;
}

/** What is drawn as a line or an area on the map, in small. */
const SAMPLES: readonly Icon[] = [
  bore('bore-planned', 'planned', 'plannedTint', [6, 2.4]),
  bore('bore-partly', 'planned', 'plannedTint', [13, 2.4]),
  bore('bore-equipped', 'planned', 'plannedTint', []),
  bore('bore-undesigned', 'undesigned', 'undesignedTint', [6, 2.4]),
  bore('bore-gallery', 'gallery', 'galleryTint', [2, 2.6]),
  bore('bore-restricted', 'restricted', 'restrictedTint', [6, 2.4]),
  {
    name: 'bore-selected',
    sizePx: 26,
    draw(c, colours) {
      c.fillStyle = colours.selected;
      c.fillRect(-12, -8, 24, 16);
      drawBore(c, colours.planned, colours.plannedTint, [6, 2.4]);
    },
  },
  {
    name: 'badge-of-two',
    sizePx: 22,
    draw(c, colours) {
      drawBadge(c, colours);
      c.fillStyle = colours.paper;
      c.font = '600 11px "IBM Plex Sans", sans-serif';
      c.textAlign = 'center';
      c.textBaseline = 'middle';
      c.fillText('2', 0, 0.5);
    },
  },
  {
    name: 'coverage',
    sizePx: 26,
    draw(c, colours) {
      c.beginPath();
      c.roundRect(-11, -4, 22, 8, 2);
      c.globalAlpha = 0.25;
      c.fillStyle = colours.coverage;
      c.fill();
      c.globalAlpha = 0.7;
      c.strokeStyle = colours.coverage;
      c.stroke();
    },
  },
  {
    name: 'keep-out',
    sizePx: 26,
    draw(c, colours) {
      c.lineCap = 'round';
      c.strokeStyle = colours.keepOut;
      c.lineWidth = 7;
      c.beginPath();
      c.moveTo(-8, 0);
      c.lineTo(8, 0);
      c.stroke();
      c.fillStyle = colours.paper;
      for (const x of [-7, -3, 1, 5]) c.fillRect(x, -2.25, 1.8, 4.5);
    },
  },
];

function bore(name: string, ink: keyof MapColours, tint: keyof MapColours, dash: number[]): Icon {
  return { name, sizePx: 26, draw: (c, colours) => drawBore(c, colours[ink], colours[tint], dash) };
}

function drawBore(c: CanvasRenderingContext2D, ink: string, tint: string, dash: number[]): void {
  c.fillStyle = tint;
  c.fillRect(-12, -4, 24, 8);
  c.strokeStyle = ink;
  c.lineWidth = 2;
  c.setLineDash(dash);
  for (const y of [-4, 4]) {
    c.beginPath();
    c.moveTo(-12, y);
    c.lineTo(12, y);
    c.stroke();
  }
  c.setLineDash([]);
}
