import { rulesOf } from '../../shared/pipeline/rules-of.ts';
import { RankSection } from '../ranking/rank-section.tsx';
import { type OpenDesign, toShownScheme } from '../session/design-state.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';
import { describeLife } from './describe-life.ts';
import { GroupingSection } from './grouping-section.tsx';
import { TunnelDetails } from './tunnel-details.tsx';

type TunnelFiguresProps = {
  readonly row: TunnelRow;
  readonly open: OpenDesign;
  /** Where an OSM object can be looked at; undefined for invented data. */
  readonly objectUrl: string | undefined;
};

/** Name, value, what is to be said of it, and where it comes from. */
type Figure = readonly [string, string, (string | undefined)?, string?];

/** Everything that is known about a tunnel, as figures; what was assumed says so. */
export function TunnelFigures({ row, open, objectUrl }: TunnelFiguresProps) {
  const say = words.tunnel;
  const from = say.sources;
  const isSpeedAssumed = open.network.links.some((link) => link.assumed.includes('maxspeed'));
  const life = describeLife(rulesOf(open.surveyRules, toShownScheme(open)));
  const figures: readonly Figure[] = [
    [say.length, `${formatNumber(row.lengthM)} m`, undefined, from.length],
    [say.longestRoute, `${formatNumber(row.longestRouteM)} m`, undefined, from.longestRoute],
    [say.speed, speedRange(open), isSpeedAssumed ? say.assumed : undefined, from.speed],
    [say.outage, `${formatNumber(row.outageS)} s`, undefined, from.outage],
    [say.bores, String(row.boreCount), undefined, from.bores],
    [say.portals, String(row.portalCount), undefined, from.portals],
    [say.exits, String(row.exitCount), undefined, from.exits],
    [say.decisions, String(row.decisionCount), undefined, from.decisions],
    [say.diverges, String(row.divergeCount)],
    [say.merges, String(row.mergeCount)],
    ...listRanking(row),
    [words.radio.life, life.text, undefined, life.source],
  ];
  return (
    <section className="figures" aria-label={say.figures}>
      <dl>
        {figures.map(([name, value, note, source]) => (
          <div key={name} title={source}>
            <dt>{name}</dt>
            <dd>
              {value}
              {note === undefined ? '' : <em className="assumed"> {note}</em>}
            </dd>
          </div>
        ))}
      </dl>
      {open.network.complex.portals.some((portal) => portal.edgeOfExtract) && (
        <p className="bad">{say.cut}</p>
      )}
      {row.assumed.length > 0 && <p className="muted">{say.assumedNote(row.assumed)}</p>}
      <FigureSources figures={figures} />
      <RankSection id={row.id} />
      <GroupingSection row={row} open={open} />
      <details>
        <summary>{say.ways(row.osmWays.length)}</summary>
        <ul className="ways">
          {row.osmWays.map((id) => (
            <li key={id}>
              {objectUrl === undefined ? (
                say.way(id)
              ) : (
                <a href={`${objectUrl}/way/${id}`} target="_blank" rel="noopener noreferrer">
                  {say.way(id)}
                </a>
              )}
            </li>
          ))}
        </ul>
      </details>
      <TunnelDetails open={open} />
    </section>
  );
}

/** The same for those who have no pointer to rest on a figure. */
function FigureSources({ figures }: { readonly figures: readonly Figure[] }) {
  return (
    <details data-testid="figure-sources">
      <summary>{words.tunnel.sources.title}</summary>
      <ul>
        {figures.map(([name, , note, source]) =>
          source === undefined ? null : (
            <li key={name}>
              {name}: {source}{' '}
              {note !== undefined && <em className="assumed">{words.tunnel.sources.assumed}</em>}
            </li>
          ),
        )}
      </ul>
    </details>
  );
}

/** What the tunnel's place in the survey's order comes from; only what is known. */
function listRanking(row: TunnelRow): readonly Figure[] {
  const say = words.tunnel.ranking;
  const from = words.tunnel.sources;
  const { rank, misguidedPerDay, misguidedPerDayWithDesign, vehiclesPerDay, cost, existingCount = 0 } = row;
  const figures: Figure[] = [];
  if (rank !== undefined) figures.push([say.rank, String(rank), undefined, from.rank]);
  if (vehiclesPerDay !== undefined) {
    const note = row.assumed.includes('traffic') ? words.tunnel.assumed : undefined;
    figures.push([
      say.traffic,
      formatNumber(vehiclesPerDay),
      note,
      note ? from.assumedTraffic : from.traffic,
    ]);
  }
  if (misguidedPerDay !== undefined && misguidedPerDayWithDesign !== undefined) {
    const change = say.change(formatNumber(misguidedPerDay), formatNumber(misguidedPerDayWithDesign));
    figures.push([say.misguided, change, undefined, say.misguidedNote]);
  }
  if (cost !== undefined) figures.push([say.cost, formatNumber(cost), undefined, say.costNote]);
  if (existingCount > 0) figures.push([say.existing, formatNumber(existingCount), undefined, from.existing]);
  return figures;
}

function speedRange({ network }: OpenDesign): string {
  const speeds = network.links.map((link) => Math.round(link.speedMps * 36) / 10);
  const [low, high] = [Math.min(...speeds), Math.max(...speeds)];
  return low === high ? `${formatNumber(low)} km/h` : `${formatNumber(low)}–${formatNumber(high)} km/h`;
}
