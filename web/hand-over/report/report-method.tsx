import {
  CHOICE_RULES,
  type ChoiceRule,
  NUMBER_RULES,
  type NumberRule,
} from '../../../shared/placement/rules.ts';
import { COST_FIELDS, DEFAULT_COSTS } from '../../../shared/ranking/cost.ts';
import type { SurveyView } from '../../../shared/wire/survey.ts';
import { reportWords } from '../../report-words.ts';
import type { TunnelRow } from '../../session/tunnel-row.ts';
import { formatNumber } from '../../ui/format.ts';
import { sumRows } from './sum-rows.ts';

const say = reportWords.method;

/** What decides most about designs and ranks; the exports carry all of them. */
const SHOWN: readonly (NumberRule | ChoiceRule)[] = [
  'method',
  'spacingM',
  'redundancy',
  'coverageRadiusM',
  'side',
  'mountingHeightM',
  'decisionTimeS',
  'decisionBeacons',
  'branchConfirmationM',
  'minimumOutageS',
  'laneWidthM',
  'satnavShare',
  'announceTimeS',
  'lateToleranceM',
  'earlyToleranceM',
  'speedSpreadShare',
  'failureShare',
];
const SHOWN_COSTS = ['beaconCost', 'nightCost', 'crewNightCost', 'beaconsPerCrewHour', 'windowH'] as const;

type MethodProps = { readonly survey: SurveyView; readonly rows: readonly TunnelRow[] };

/** How the figures came about, on one page: in words, the values used with their sources, and what was assumed. */
export function ReportMethod({ survey, rows }: MethodProps) {
  return (
    <section aria-labelledby="report-method" className="report-method">
      <h2 id="report-method">{say.title}</h2>
      <div className="report-method-parts">
        {say.parts.map(({ title, text }) => (
          <div key={title}>
            <h3>{title}</h3>
            <p>{text}</p>
          </div>
        ))}
      </div>
      <Values rules={survey.rules} />
      <Assumed rows={rows} />
    </section>
  );
}

function Values({ rules }: Pick<SurveyView, 'rules'>) {
  const ofRules = SHOWN.map((rule) => describeRule(rule, rules[rule]));
  const ofCosts = SHOWN_COSTS.map((field) => {
    const { label, unit, source } = COST_FIELDS[field];
    return { label, used: `${formatValue(DEFAULT_COSTS[field])} ${unit}`, source: cleanSource(source) };
  });
  return (
    <>
      <h3>{say.values}</h3>
      <table className="report-table report-values">
        <thead>
          <tr>
            {Object.values(say.columns).map((name) => (
              <th scope="col" key={name}>
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {[...ofRules, ...ofCosts].map(({ label, used, source }) => (
            <tr key={label}>
              <th scope="row">{label}</th>
              <td>{used}</td>
              <td>{source}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="muted report-note">{say.single}</p>
    </>
  );
}

function describeRule(rule: NumberRule | ChoiceRule, given: number | string | undefined) {
  const spec = rule in CHOICE_RULES ? CHOICE_RULES[rule as ChoiceRule] : NUMBER_RULES[rule as NumberRule];
  const unit = 'unit' in spec ? spec.unit : '';
  const write = (value: number | string) =>
    `${typeof value === 'number' ? formatValue(value) : value} ${unit}`.trim();
  const value = given ?? spec.fallback;
  const source = value === spec.fallback ? cleanSource(spec.source) : say.changed(write(spec.fallback));
  return { label: spec.label, used: write(value), source };
}

/** Without the mark that tells which list a source is in. */
function cleanSource(source: string): string {
  return source.replace(/\s*\[[A-Z]\]$/, '');
}

/** As many decimals as it has. */
function formatValue(value: number): string {
  const decimals = value % 1 === 0 ? 0 : (value * 10) % 1 === 0 ? 1 : 2;
  return formatNumber(value, decimals);
}

function Assumed({ rows }: { readonly rows: readonly TunnelRow[] }) {
  const { assumed } = sumRows(rows);
  const { title, kinds, columns, none } = reportWords.assumptions;
  const found = Object.entries(kinds).filter(([kind]) => assumed.has(kind));
  return (
    <>
      <h3>{title}</h3>
      {found.length === 0 ? (
        <p>{none}</p>
      ) : (
        <table className="report-table report-values">
          <thead>
            <tr>
              <th scope="col">{columns.what}</th>
              <th scope="col" className="number">
                {columns.tunnels}
              </th>
            </tr>
          </thead>
          <tbody>
            {found.map(([kind, text]) => (
              <tr key={kind}>
                <th scope="row">{text}</th>
                <td className="number">{formatNumber(assumed.get(kind) ?? 0)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </>
  );
}
