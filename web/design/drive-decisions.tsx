import { Fragment } from 'react';
import type { DecisionDrive, Percentiles } from '../../shared/drive/drive.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import { driveWords as say } from '../drive-words.ts';
import { formatChainage, formatNumber } from '../ui/format.ts';

type DriveDecisionsProps = { readonly decisions: readonly DecisionDrive[]; readonly rules: Rules };

/** The decision points of a route: how often guidance fails there, and by which distances that is judged. */
export function DriveDecisions({ decisions, rules }: DriveDecisionsProps) {
  if (decisions.length === 0) return <p>{say.table.none}</p>;
  return (
    <table data-testid="drive-decisions">
      <caption>{say.table.caption}</caption>
      <thead>
        <tr>
          {Object.values(say.table.columns).map((name) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {decisions.map((decision, i) => (
          <Fragment key={`${decision.osmNode} ${decision.linkId}`}>
            <Measures decision={decision} number={i + 1} />
            <tr>
              <td className="working" colSpan={Object.keys(say.table.columns).length}>
                {describeWorking(decision, rules)}
              </td>
            </tr>
          </Fragment>
        ))}
      </tbody>
    </table>
  );
}

function Measures({ decision, number }: { readonly decision: DecisionDrive; readonly number: number }) {
  const { atM, where, speedMps, announceM, sightM, failures } = decision;
  const percent = (share: number) => formatNumber(share * 100, 1);
  return (
    <tr className="measures">
      <th scope="row">
        <strong>{number}</strong> {formatChainage(atM)} {say.table.where[where]}
      </th>
      <td>{formatNumber(speedMps * 3.6)}</td>
      <td>{formatNumber(announceM)}</td>
      <td>{formatNumber(sightM)}</td>
      {(['late', 'early'] as const).map((kind) => (
        <td key={kind} data-testid={kind}>
          {say.table.change(percent(failures.without[kind]), percent(failures.with[kind]))}
        </td>
      ))}
    </tr>
  );
}

function describeWorking(decision: DecisionDrive, { lateToleranceM }: Rules): string {
  const { atM, announceM, sightM, lateLimitM, earlyLimitM, errorM } = decision;
  const dueM = atM - announceM;
  return [
    dueM > 0 ? say.due(formatChainage(dueM)) : say.dueOutside,
    say.working(
      formatNumber(announceM, 1),
      formatNumber(sightM, 1),
      formatNumber(lateToleranceM),
      formatNumber(lateLimitM, 1),
      formatNumber(earlyLimitM),
    ),
    say.errorThere(three(errorM.without), three(errorM.with)),
  ].join(' ');
}

function three({ p5, p50, p95 }: Percentiles): string {
  return [p5, p50, p95].map((value) => formatNumber(value)).join(' / ');
}
