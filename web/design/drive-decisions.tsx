import type { DecisionDrive, Percentiles } from '../../shared/drive/drive.ts';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import { driveWords as say } from '../drive-words.ts';
import { formatChainage, formatNumber } from '../ui/format.ts';

type DriveDecisionsProps = {
  readonly decisions: readonly DecisionDrive[];
  readonly network: ComplexNetwork;
  readonly rules: Rules;
  /** There are beacons to be told of. */
  readonly isDesigned: boolean;
};

/** The decision points of a route: how often guidance fails there, and by which distances that is judged. */
export function DriveDecisions({ decisions, network, rules, isDesigned }: DriveDecisionsProps) {
  if (decisions.length === 0) return <p>{say.table.none}</p>;
  return (
    <table className="drive-decisions" data-testid="drive-decisions">
      <caption>
        {say.table.caption} <span className="muted">{say.table.captionNote(isDesigned)}</span>
      </caption>
      <thead>
        <tr>
          {Object.values(say.table.columns).map((name) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      {decisions.map((decision, i) => (
        <tbody key={`${decision.osmNode} ${decision.linkId}`}>
          <tr className="measures">
            <th scope="rowgroup" colSpan={COLUMNS}>
              <strong>{i + 1}</strong> {describePlace(decision, network)}
            </th>
          </tr>
          <Measures decision={decision} isDesigned={isDesigned} />
          <tr>
            <td className="working" colSpan={COLUMNS}>
              <details>
                <summary>{say.table.working}</summary>
                {listWorking(decision, rules).map((line) => (
                  <p key={line}>{line}</p>
                ))}
              </details>
            </td>
          </tr>
        </tbody>
      ))}
    </table>
  );
}

const COLUMNS = Object.keys(say.table.columns).length;

function Measures({
  decision,
  isDesigned,
}: {
  readonly decision: DecisionDrive;
  readonly isDesigned: boolean;
}) {
  const { announceM, sightM, lateLimitM, earlyLimitM, failures } = decision;
  const percent = (share: number) => formatNumber(share * 100, 1);
  return (
    <tr>
      <td>{formatNumber(sightM)}</td>
      <td>{formatNumber(announceM)}</td>
      <td>{formatNumber(lateLimitM)}</td>
      <td>{formatNumber(earlyLimitM)}</td>
      {(['late', 'early'] as const).map((kind) => (
        <td key={kind} data-testid={kind}>
          {isDesigned
            ? say.table.change(percent(failures.without[kind]), percent(failures.with[kind]))
            : percent(failures.without[kind])}
        </td>
      ))}
    </tr>
  );
}

/** `0+847, 2 Southgate · after the portal`. */
function describePlace(
  { osmNode, atM, where, speedMps }: DecisionDrive,
  { complex }: ComplexNetwork,
): string {
  const { branches = [] } =
    [...complex.diverges, ...complex.decisionsAfterPortal].find((one) => one.osmNode === osmNode) ?? {};
  const exits = branches.filter(({ exit }) => exit);
  const labels = (exits.length > 0 ? exits : branches).flatMap(({ label }) => label ?? []);
  return say.table.place(
    formatChainage(atM),
    [...new Set(labels)].join(' / '),
    formatNumber(speedMps * 3.6),
    where === 'after portal',
  );
}

function listWorking(decision: DecisionDrive, rules: Rules): readonly string[] {
  const { atM, announceM, sightM, lateLimitM, earlyLimitM, errorM } = decision;
  const dueM = atM - announceM;
  const metres = (value: number) => formatNumber(value, 1);
  return [
    say.announced(metres(announceM), metres(rules.announceTimeS)),
    dueM > 0 ? say.due(formatChainage(dueM)) : say.dueOutside,
    say.late(metres(announceM), metres(sightM), metres(rules.lateToleranceM), metres(lateLimitM)),
    earlyLimitM < rules.earlyToleranceM
      ? say.earlyBefore(metres(earlyLimitM), metres(rules.earlyToleranceM))
      : say.early(metres(earlyLimitM)),
    say.errorThere(three(errorM.without), three(errorM.with)),
  ];
}

function three({ p5, p50, p95 }: Percentiles): string {
  return [p5, p50, p95].map((value) => formatNumber(value, 1)).join(' / ');
}
