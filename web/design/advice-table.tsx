import type { Rules } from '../../shared/placement/rules.ts';
import type { SpacingAdvice, SpacingLimit, SpacingRow } from '../../shared/radio/advise-spacing.ts';
import { useRights } from '../app/use-rights.ts';
import type { DesignSession } from '../session/design-session.ts';
import { formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';
import { toPercent } from './radio-answer.tsx';

type AdviceTableProps = {
  readonly session: DesignSession;
  readonly rules: Rules;
  readonly advice: SpacingAdvice;
  readonly heardM: number;
};

/** For each redundancy the limits, which one binds, and the spacing; the advised one can be taken over. */
export function AdviceTable({ session, rules, advice, heardM }: AdviceTableProps) {
  const say = words.adviser;
  const { rows, recommended, speedsMps } = advice;
  const speeds = [...new Set([Math.min(...speedsMps), Math.max(...speedsMps)].map(toKmh))].join('–');
  return (
    <>
      <table data-testid="advice">
        <caption>{say.caption}</caption>
        <thead>
          <tr>
            {[say.redundancy, say.byError, say.byCoverage, say.chance, say.spacing, say.perKm].map((head) => (
              <th key={head} scope="col">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <Row key={row.redundancy} row={row} isAdvised={row === recommended} />
          ))}
        </tbody>
      </table>
      <p className="muted">
        {say.working(speeds, formatNumber(heardM), rules.coverageDepth, toPercent(rules.failureShare))}
      </p>
      {recommended === undefined ? (
        <p className="notice warning" role="status">
          {say.none}
        </p>
      ) : (
        <>
          <UseButton session={session} rules={rules} row={recommended} />
          <p className="muted">{say.why}</p>
        </>
      )}
    </>
  );
}

function Row({ row, isAdvised }: { readonly row: SpacingRow; readonly isAdvised: boolean }) {
  const say = words.adviser;
  const { redundancy, byErrorM, byCoverageM, spacingM, chance, binds } = row;
  const classOf = (limit: SpacingLimit) => (binds === limit ? 'binds' : undefined);
  return (
    <tr className={isAdvised ? 'advised' : undefined}>
      <th scope="row">{redundancy}</th>
      <td className={classOf('error')}>{toMetres(byErrorM)}</td>
      <td className={classOf('coverage')}>{toMetres(byCoverageM)}</td>
      <td className={classOf('certainty')}>
        {chance === undefined
          ? '–'
          : spacingM === undefined
            ? say.atMost(toPercent(chance))
            : toPercent(chance)}
      </td>
      <td>
        {spacingM === undefined ? say.cannot : say.metres(String(spacingM))}
        <span className="muted">{say.binds[binds]}</span>
      </td>
      <td>{spacingM === undefined ? '–' : formatNumber(1000 / spacingM, 1)}</td>
    </tr>
  );
}

type UseButtonProps = Pick<AdviceTableProps, 'session' | 'rules'> & { readonly row: SpacingRow };

function UseButton({ session, rules, row: { redundancy, spacingM } }: UseButtonProps) {
  const say = words.adviser;
  const { mayEdit } = useRights();
  if (spacingM === undefined) return null;
  const wanted = [
    ['redundancy', redundancy],
    ['spacingM', spacingM],
  ] as const;
  const edits = wanted.filter(([rule, value]) => rules[rule] !== value);
  if (edits.length === 0) return <p role="status">{say.inUse(spacingM, redundancy)}</p>;
  if (!mayEdit) return null;
  const use = () => {
    for (const [rule, value] of edits) session.commit({ kind: 'setRule', rule, value });
  };
  return (
    <p className="adviser-use">
      <button type="button" onClick={use}>
        {say.use(spacingM, redundancy)}
      </button>
      {edits.length > 1 && <span className="muted">{say.useNote}</span>}
    </p>
  );
}

/** Rounded down, as the spacing is. */
function toMetres(limitM: number): string {
  const say = words.adviser;
  return Number.isFinite(limitM)
    ? say.metres(formatNumber(Math.floor(limitM * 10 + 1e-6) / 10, 1))
    : say.noLimit;
}

function toKmh(speedMps: number): string {
  return formatNumber(speedMps * 3.6);
}
