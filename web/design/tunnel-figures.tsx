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
  const isSpeedAssumed = open.network.links.some((link) => link.assumed.includes('maxspeed'));
  const life = describeLife(rulesOf(open.surveyRules, toShownScheme(open)));
  const figures: readonly Figure[] = [
    [say.length, `${formatNumber(row.lengthM)} m`],
    [say.longestRoute, `${formatNumber(row.longestRouteM)} m`],
    [say.speed, speedRange(open), isSpeedAssumed ? say.assumed : undefined],
    [say.outage, `${formatNumber(row.outageS)} s`],
    [say.bores, String(row.boreCount)],
    [say.portals, String(row.portalCount)],
    [say.exits, String(row.exitCount)],
    [say.decisions, String(row.decisionCount)],
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

/** What the tunnel's place in the survey's order comes from; only what is known. */
function listRanking(row: TunnelRow): readonly Figure[] {
  const say = words.tunnel.ranking;
  const { rank, misguidedPerDay, misguidedPerDayWithDesign, vehiclesPerDay, cost, existingCount = 0 } = row;
  const figures: Figure[] = [];
  if (rank !== undefined) figures.push([say.rank, String(rank)]);
  if (vehiclesPerDay !== undefined) {
    const note = row.assumed.includes('traffic') ? words.tunnel.assumed : undefined;
    figures.push([say.traffic, formatNumber(vehiclesPerDay), note]);
  }
  if (misguidedPerDay !== undefined && misguidedPerDayWithDesign !== undefined) {
    const change = say.change(formatNumber(misguidedPerDay), formatNumber(misguidedPerDayWithDesign));
    figures.push([say.misguided, change, undefined, say.misguidedNote]);
  }
  if (cost !== undefined) figures.push([say.cost, formatNumber(cost), undefined, say.costNote]);
  if (existingCount > 0) figures.push([say.existing, formatNumber(existingCount)]);
  return figures;
}

function speedRange({ network }: OpenDesign): string {
  const speeds = network.links.map((link) => Math.round(link.speedMps * 36) / 10);
  const [low, high] = [Math.min(...speeds), Math.max(...speeds)];
  return low === high ? `${formatNumber(low)} km/h` : `${formatNumber(low)}–${formatNumber(high)} km/h`;
}
