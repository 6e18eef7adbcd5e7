import './checks.css';
import type { LonLat } from '../../shared/geodesy/lon-lat.ts';
import type { Link } from '../../shared/network/network.ts';
import type { Check, CheckPlace, Survival } from '../../shared/placement/design.ts';
import { useSessions } from '../app/sessions.ts';
import type { DesignSession } from '../session/design-session.ts';
import type { OpenDesign } from '../session/design-state.ts';
import { formatChainage, formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';
import { nameOfLink } from './list-beacon-rows.ts';

type ChecksSectionProps = { readonly session: DesignSession; readonly open: OpenDesign };

/** What the design was held against: what was asked, what was found, where, and how to mend it. */
export function ChecksSection({ session, open }: ChecksSectionProps) {
  const { view } = useSessions();
  if (open.shown === undefined) return null;
  const { checks, survival } = open.shown.design;
  const unmet = checks.filter(({ status }) => status === 'not met').length;
  const show = ({ beaconId, at }: CheckPlace) => {
    // A beacon that is chosen is brought on the map by itself; one that was chosen before needs the move.
    if (beaconId !== undefined) session.selectBeacon(beaconId);
    view.goTo(around(at));
  };
  return (
    <section className="checks" aria-label={words.checks.title}>
      <details>
        <summary>
          <h3>{words.checks.title}</h3>
          {checks.length > 0 && (
            <span className={`check-status ${unmet > 0 ? 'not-met' : 'met'}`} data-testid="unmet">
              {words.checks.unmet(unmet)}
            </span>
          )}
        </summary>
        {checks.length === 0 && <p className="muted">{words.checks.none}</p>}
        <ul>
          {checks.map((check) => (
            <CheckItem key={check.rule} check={check} links={open.network.links} onShow={show} />
          ))}
        </ul>
        {survival !== undefined && <SurvivalNote survival={survival} />}
      </details>
    </section>
  );
}

/** Half a side of the square that is shown around a place, degrees. */
const AROUND_DEG = 0.001;

function around([lon, lat]: LonLat): [number, number, number, number] {
  return [lon - AROUND_DEG, lat - AROUND_DEG, lon + AROUND_DEG, lat + AROUND_DEG];
}

type CheckItemProps = {
  readonly check: Check;
  readonly links: readonly Link[];
  readonly onShow: (place: CheckPlace) => void;
};

function CheckItem({ check, links, onShow }: CheckItemProps) {
  const { rule, status, where, mend } = check;
  const say = words.checks;
  return (
    <li>
      <span className={`check-status ${status.replaceAll(' ', '-')}`}>{say.statuses[status]}</span>
      <span title={say.meanings[rule]}>{say.rules[rule]}</span>
      <span className="values">{describeValues(check)}</span>
      {mend !== undefined && <p className="more">{say.mends[mend]}</p>}
      {where.length > 0 && status !== 'met' && (
        <p className="more check-places">
          {where.map((place) => {
            const name = describePlace(place, links);
            return (
              <button
                type="button"
                className="link"
                key={`${place.linkId} ${place.chainageM} ${place.beaconId}`}
                aria-label={say.show(say.rules[rule], name)}
                onClick={() => onShow(place)}
              >
                {name}: {toText(place.found, check)}
              </button>
            );
          })}
        </p>
      )}
    </li>
  );
}

/** `39.7 m, at most 40 m`. */
function describeValues(check: Check): string {
  const { found, required, unit, rule } = check;
  const say = words.checks;
  if (found === undefined) return '';
  if (required === undefined) return toText(found, check);
  const limit = say.value(formatNumber(required, required % 1 === 0 ? 0 : 2), unit);
  const isLeast = rule === 'decision-sight' || rule === 'coverage';
  return `${toText(found, check)}, ${isLeast ? say.atLeast(limit) : say.atMost(limit)}`;
}

function toText(found: number, { unit }: Check): string {
  return words.checks.value(formatNumber(found, unit === 'm' || found % 1 !== 0 ? 1 : 0), unit);
}

function describePlace({ linkId, chainageM }: CheckPlace, links: readonly Link[]): string {
  const link = links.find((one) => one.id === linkId);
  const chainage = formatChainage(chainageM);
  return links.length === 1 || link === undefined ? chainage : `${nameOfLink(link)} ${chainage}`;
}

function SurvivalNote({ survival }: { readonly survival: Survival }) {
  const { share, failureShare, limitM, method, trials = 0 } = survival;
  const say = words.checks;
  const how = method === 'exact' ? say.methods.exact() : say.methods.simulated(formatNumber(trials));
  const decimals = (value: number) => (value % 1 === 0 ? 0 : 1);
  const failedPercent = Math.round(failureShare * 1000) / 10;
  return (
    <>
      <p className="survival" data-testid="survival">
        {say.survival(formatNumber(floorPercent(share), 1))}
      </p>
      <p className="muted">
        {say.survivalOf(
          formatNumber(limitM, decimals(limitM)),
          formatNumber(failedPercent, decimals(failedPercent)),
          how,
        )}
      </p>
    </>
  );
}

/** Rounded down, so that 99.97 % is never shown as certain. */
function floorPercent(share: number): number {
  return Math.floor(share * 1000 + 1e-9) / 10;
}
