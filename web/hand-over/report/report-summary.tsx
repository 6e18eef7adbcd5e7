import type { ReactNode } from 'react';
import { useSessions } from '../../app/sessions.ts';
import { reportWords } from '../../report-words.ts';
import { StatusMark } from '../../survey/status-mark.tsx';
import { formatNumber, formatPerDay } from '../../ui/format.ts';
import { useStore } from '../../ui/use-store.ts';
import { sumRows } from './sum-rows.ts';
import type { ReportData } from './use-report.ts';

const say = reportWords.summary;
/** So many names fit into a sentence. */
const FIRST = 5;

/** The figures that matter, on half a page. */
export function ReportSummary({ data: { rows, survey } }: { readonly data: ReportData }) {
  const { programme } = useSessions();
  const { surveyId, planned } = useStore(programme);
  const sums = sumRows(rows);
  const figures: readonly (readonly [string, ReactNode])[] = [
    [say.tunnels, formatNumber(sums.tunnels)],
    [say.length, `${formatNumber(sums.lengthM / 1000, 1)} km`],
    [say.exits, formatNumber(sums.exits)],
    [say.decisions, formatNumber(sums.decisions)],
    [say.outage, `${formatNumber(sums.outageS)} s`],
    [
      say.misguided,
      say.misguidedChange(formatPerDay(sums.misguided), formatPerDay(sums.misguidedWithDesign)),
    ],
    [say.beacons, formatNumber(sums.beacons)],
    [say.existing, formatNumber(sums.existing)],
    [
      say.cost,
      <>
        {formatNumber(sums.cost)} <span className="muted">{say.costNote}</span>
      </>,
    ],
  ];
  const first = rows.filter(({ rank }) => rank !== undefined).slice(0, FIRST);
  const plan = planned !== undefined && surveyId === survey.id ? planned.answer : undefined;
  const count = plan?.best.years.reduce((sum, { ids }) => sum + ids.length, 0) ?? 0;
  return (
    <section aria-labelledby="report-summary">
      <h2 id="report-summary">{say.title}</h2>
      <div className="report-summary">
        <table>
          <tbody>
            {figures.map(([name, value]) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                <td>{value}</td>
              </tr>
            ))}
          </tbody>
        </table>
        <table>
          <thead>
            <tr>
              <th scope="col">{say.status}</th>
              <th scope="col" className="number">
                {say.tunnels}
              </th>
            </tr>
          </thead>
          <tbody>
            {sums.statuses.map(({ status, count: inStatus }) => (
              <tr key={status}>
                <th scope="row">
                  <StatusMark status={status} />
                  <span className="muted report-note">{say.statusNotes[status]}</span>
                </th>
                <td className="number">{formatNumber(inStatus)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {first.length > 1 && <p>{say.first(first.map(({ name }) => name).join(', '))}</p>}
      {plan !== undefined && <p>{say.programme(count, plan.years, formatNumber(plan.best.cost))}</p>}
    </section>
  );
}
