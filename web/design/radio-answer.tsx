import type { Rules } from '../../shared/placement/rules.ts';
import { checkPower } from '../../shared/radio/power-limits.ts';
import { BEACON_PROFILES, eirpDbm, RECEIVER_PROFILES } from '../../shared/radio/profiles.ts';
import { formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';
import type { RadioEstimate } from './estimate-radio.ts';

type RadioAnswerProps = { readonly estimate: RadioEstimate; readonly rules: Rules };

/** The range, the link budget with every term, the chance to detect, the limit of power. */
export function RadioAnswer({ estimate, rules }: RadioAnswerProps) {
  const say = words.radio;
  return (
    <>
      <RangeNote estimate={estimate} rules={rules} />
      <BudgetTable estimate={estimate} rules={rules} />
      <DetectionTable estimate={estimate} />
      <p className="muted">{say.detectionNote(estimate.otherBeacons, formatNumber(estimate.heardM))}</p>
      <PowerNote rules={rules} />
    </>
  );
}

/** The radius in use, and what the model says of it. */
function RangeNote({ estimate, rules }: RadioAnswerProps) {
  const say = words.radio;
  const { rangeM, radiusM, greatestRadiusM } = estimate;
  // Rounded down, so that the radius that is proposed is one that the model supports.
  const range = formatNumber(Math.floor(rangeM));
  const radius = toRadius(radiusM);
  const isShort = rules.coverageSource === 'hand' && rangeM < radiusM;
  const isSilent = rangeM < 1;
  const text = {
    hand: () =>
      !isShort
        ? say.supported(range, radius)
        : isSilent
          ? say.neverHeard(radius)
          : say.unsupported(range, radius),
    measured: () => say.measured(radius, range),
    model: () =>
      isSilent
        ? say.neverHeard(radius)
        : greatestRadiusM > radiusM
          ? say.modelled(`${radius}–${toRadius(greatestRadiusM)}`)
          : say.modelled(radius),
  }[rules.coverageSource]();
  const isBad = isShort || (isSilent && rules.coverageSource === 'model');
  return (
    <p className={isBad ? 'notice warning' : 'radio-range'} role="status" data-testid="model-range">
      {text}
    </p>
  );
}

function PowerNote({ rules }: Pick<RadioAnswerProps, 'rules'>) {
  const say = words.radio;
  const power = eirpDbm(BEACON_PROFILES[rules.beaconProfile]);
  const limit = checkPower(power).find(({ region }) => region === rules.region);
  if (limit === undefined) throw new Error(`no limit of power is known for the region ${rules.region}`);
  const text = say.power(words.rules.options.region[rules.region], power, limit.limitDbm, limit.isKept);
  return (
    <p className={limit.isKept ? undefined : 'notice warning'} title={limit.source}>
      {text}
    </p>
  );
}

function BudgetTable({ estimate, rules }: RadioAnswerProps) {
  const say = words.radio;
  const { terms, levelDbm, leftDb } = estimate.budget;
  const sums = [
    [say.level, levelDbm, 'dBm'],
    [say.sensitivity, RECEIVER_PROFILES[rules.receiverProfile].sensitivityDbm, 'dBm'],
    [say.left, leftDb, 'dB'],
  ] as const;
  return (
    <table data-testid="budget">
      <caption>{say.budget(toRadius(estimate.radiusM))}</caption>
      <tbody>
        {terms.map(({ name, value, unit }) => (
          <tr key={name} title={say.termNotes[name]}>
            <th scope="row">
              {say.terms[name]}
              <span className="muted">{say.termNotes[name]}</span>
            </th>
            <td>{toText(value, unit)}</td>
          </tr>
        ))}
        {sums.map(([label, value, unit]) => (
          <tr key={label} className="sum">
            <th scope="row">{label}</th>
            <td>{toText(value, unit)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function DetectionTable({ estimate }: Pick<RadioAnswerProps, 'estimate'>) {
  const say = words.radio;
  return (
    <table data-testid="detection">
      <caption>{say.detection}</caption>
      <thead>
        <tr>
          <th scope="col">{say.speed}</th>
          <th scope="col">{say.one}</th>
          <th scope="col">{say.row(estimate.inRow)}</th>
        </tr>
      </thead>
      <tbody>
        {estimate.passes.map(({ speedMps, one, row }) => (
          <tr key={speedMps}>
            <th scope="row">{say.speedKmh(formatNumber(speedMps * 3.6))}</th>
            <td>{toPercent(one)}</td>
            <td>{toPercent(row)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Rounded down, so that 99.97 % is never shown as certain. */
export function toPercent(share: number): string {
  return words.radio.percent(formatNumber(Math.floor(share * 1000 + 1e-6) / 10, 1));
}

function toRadius(radiusM: number): string {
  return formatNumber(radiusM, radiusM % 1 === 0 ? 0 : 1);
}

/** `−72.4 dB`, never `−0.0`. */
function toText(value: number, unit: string): string {
  return `${formatNumber(Math.round(value * 10) / 10 + 0, 1).replace('-', '−')} ${unit}`;
}
