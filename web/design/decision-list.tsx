import type { Decision } from '../../shared/network/network.ts';
import { useSessions } from '../app/sessions.ts';
import type { OpenDesign } from '../session/design-state.ts';
import { formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';
import { listDecisionsInOrder } from './list-decisions-in-order.ts';

const say = words.tunnel.decisionList;

/** Half the side of the piece of map around a decision point, degrees. */
const AROUND_DEG = 0.0015;

/** The decision points of a tunnel in their order, each with its ways to go; the number is the one that routes name. */
export function DecisionList({ open }: { readonly open: OpenDesign }) {
  const decisions = listDecisionsInOrder(open.network.complex);
  if (decisions.length === 0) return null;
  return (
    <details data-testid="decision-list">
      <summary>{say.title(decisions.length)}</summary>
      <p className="muted">{say.note}</p>
      <ol className="decision-list">
        {decisions.map((decision) => (
          <DecisionItem key={`${decision.where} ${decision.osmNode}`} decision={decision} />
        ))}
      </ol>
    </details>
  );
}

function DecisionItem({ decision }: { readonly decision: Decision }) {
  const { view } = useSessions();
  const { branches, where, at, osmNode, speedMps, distanceFromFixM, distanceFromPortalM } = decision;
  const ways = branches.map(({ label, exit }) => say.way(label, exit));
  const show = () => {
    const [lon, lat] = at;
    view.patch({ spot: [lon, lat] });
    view.goTo([lon - AROUND_DEG, lat - AROUND_DEG, lon + AROUND_DEG, lat + AROUND_DEG]);
  };
  return (
    <li>
      <strong>{ways.join(' · ') || say.node(osmNode)}</strong>
      <span className="muted">
        {[
          say.places[where],
          say.fromFix(formatNumber(distanceFromFixM)),
          ...(distanceFromPortalM === undefined ? [] : [say.fromPortal(formatNumber(distanceFromPortalM))]),
          `${formatNumber(speedMps * 3.6)} km/h`,
        ].join(', ')}
      </span>
      <button type="button" className="link" aria-label={say.showNamed(osmNode)} onClick={show}>
        {words.tunnel.showOnMap}
      </button>
    </li>
  );
}
