import { useSessions } from '../app/sessions.ts';
import { TunnelLink } from '../ranking/tunnel-link.tsx';
import { rankingWords } from '../ranking-words.ts';
import type { EvidenceKind } from '../session/api.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { StatusMark } from '../survey/status-mark.tsx';
import { formatNumber } from '../ui/format.ts';
import { useStore } from '../ui/use-store.ts';

const say = rankingWords.evidence;

/** Which tunnels have got something from a file. */
export function MatchedTunnels({ kind }: { readonly kind: EvidenceKind }) {
  const { surveys } = useSessions();
  const { open } = useStore(surveys);
  const rows = open?.status === 'ready' ? open.value.rows : [];
  const matched = rows.filter((row) => (kind === 'traffic' ? isCounted(row) : (row.existingCount ?? 0) > 0));
  return (
    <>
      <p>{describe(kind, rows)}</p>
      {matched.length > 0 && (
        <details>
          <summary>
            {say[kind].matchedTitle} ({matched.length})
          </summary>
          <table>
            <thead>
              <tr>
                <th scope="col">{rankingWords.ranking.columns.tunnel}</th>
                <th scope="col" className="number">
                  {say[kind].perTunnel}
                </th>
                {kind === 'existing' && <th scope="col">{rankingWords.table.status}</th>}
              </tr>
            </thead>
            <tbody>
              {matched.map((row) => (
                <tr key={row.id}>
                  <td>
                    <TunnelLink id={row.id} name={row.name} />
                  </td>
                  <td className="number">
                    {formatNumber((kind === 'traffic' ? row.vehiclesPerDay : row.existingCount) ?? 0)}
                  </td>
                  {kind === 'existing' && (
                    <td>
                      <StatusMark status={row.status} />
                    </td>
                  )}
                </tr>
              ))}
            </tbody>
          </table>
        </details>
      )}
    </>
  );
}

function isCounted({ vehiclesPerDay, assumed }: TunnelRow): boolean {
  return vehiclesPerDay !== undefined && !assumed.includes('traffic');
}

function describe(kind: EvidenceKind, rows: readonly TunnelRow[]): string {
  if (kind === 'traffic') {
    const ranked = rows.filter(({ vehiclesPerDay }) => vehiclesPerDay !== undefined);
    const counted = ranked.filter(isCounted).length;
    return say.traffic.tunnels(counted, ranked.length - counted);
  }
  const count = (status: TunnelRow['status']) => rows.filter((row) => row.status === status).length;
  return say.existing.tunnels(count('equipped'), count('partly equipped'), count('planned'));
}
