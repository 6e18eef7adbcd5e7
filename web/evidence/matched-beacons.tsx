import type { EvidenceReport } from '../../shared/wire/ranking.ts';
import { TunnelLink } from '../ranking/tunnel-link.tsx';
import { useNames } from '../ranking/use-names.ts';
import { rankingWords } from '../ranking-words.ts';
import { formatChainage, formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';

const say = rankingWords.evidence;

type MatchedBeaconsProps = Pick<NonNullable<EvidenceReport['existing']>, 'matches' | 'matchCount'>;

/** Where each beacon of an inventory was found; those farthest from their bore, the doubtful ones, come first. */
export function MatchedBeacons({ matches, matchCount }: MatchedBeaconsProps) {
  const nameOf = useNames();
  if (matches.length === 0) return null;
  const heads = say.matches;
  return (
    <details>
      <summary>
        {heads.title} ({formatNumber(matchCount)})
      </summary>
      <table data-testid="matches">
        <thead>
          <tr>
            <th scope="col" className="number">
              {heads.line}
            </th>
            <th scope="col">{heads.device}</th>
            <th scope="col">{heads.state}</th>
            <th scope="col">{rankingWords.ranking.columns.tunnel}</th>
            <th scope="col" className="number">
              {heads.chainage}
            </th>
            <th scope="col">{heads.side}</th>
            <th scope="col" className="number">
              {heads.distance}
            </th>
          </tr>
        </thead>
        <tbody>
          {matches.map((match) => (
            <tr key={match.line}>
              <td className="number">{match.line}</td>
              <td>{match.deviceId ?? ''}</td>
              <td>{match.state ?? ''}</td>
              <td>
                <TunnelLink id={match.complex} name={nameOf(match.complex)} />
              </td>
              <td className="number">{formatChainage(match.chainageM)}</td>
              <td>{words.rules.sides[match.side]}</td>
              <td className="number">{formatNumber(match.distanceM, 1)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {matchCount > matches.length && <p className="muted">{say.first(matches.length, matchCount)}</p>}
    </details>
  );
}
