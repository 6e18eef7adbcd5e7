import './radio.css';
import { useMemo, useState } from 'react';
import { batteryLifeYears } from '../../shared/assurance/battery-life.ts';
import { describeRefusal } from '../../shared/outcome/words.ts';
import { rulesOf } from '../../shared/pipeline/design-complex.ts';
import { checkPower } from '../../shared/radio/power-limits.ts';
import {
  BEACON_PROFILES,
  type BeaconProfile,
  type BeaconProfileId,
  DEFAULT_BEACON,
  DEFAULT_RECEIVER,
  eirpDbm,
  RECEIVER_PROFILES,
  type ReceiverProfile,
  type ReceiverProfileId,
} from '../../shared/radio/profiles.ts';
import { type OpenDesign, toShownScheme } from '../session/design-state.ts';
import { formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';
import { estimateRadio, type RadioEstimate } from './estimate-radio.ts';

/** What the radio model says of this tunnel; computed only while it is open. */
export function RadioSection({ open }: { readonly open: OpenDesign }) {
  const [isOpen, setOpen] = useState(false);
  return (
    <section className="radio" aria-label={words.radio.title}>
      <details onToggle={(event) => setOpen(event.currentTarget.open)}>
        <summary>
          <h3>{words.radio.title}</h3>
        </summary>
        {isOpen && <RadioModel open={open} />}
      </details>
    </section>
  );
}

function RadioModel({ open }: { readonly open: OpenDesign }) {
  const say = words.radio;
  const [beaconId, setBeacon] = useState<BeaconProfileId>(DEFAULT_BEACON);
  const [receiverId, setReceiver] = useState<ReceiverProfileId>(DEFAULT_RECEIVER);
  const [beacon, receiver] = [BEACON_PROFILES[beaconId], RECEIVER_PROFILES[receiverId]];
  const { links } = open.network;
  const scheme = toShownScheme(open);
  const rules = useMemo(() => rulesOf(open.surveyRules, scheme), [open.surveyRules, scheme]);
  const estimate = useMemo(
    () => estimateRadio({ links, rules, beacon, receiver }),
    [links, rules, beacon, receiver],
  );
  return (
    <>
      <div className="radio-choice">
        <Choice
          label={say.beacon}
          value={beaconId}
          names={say.beacons}
          note={say.beaconValues(eirpDbm(beacon), beacon.intervalMs)}
          onChoose={setBeacon}
        />
        <Choice
          label={say.receiver}
          value={receiverId}
          names={say.receivers}
          note={say.receiverValues(receiver.scanWindowMs, receiver.scanIntervalMs)}
          onChoose={setReceiver}
        />
      </div>
      {estimate.ok ? (
        <Answer
          estimate={estimate.value}
          beacon={beacon}
          receiver={receiver}
          radiusM={rules.coverageRadiusM}
        />
      ) : (
        <p className="notice error" role="status">
          {say.refused} {describeRefusal(estimate.refusal)}
        </p>
      )}
      <p className="muted">{say.caution}</p>
    </>
  );
}

type ChoiceProps<Id extends string> = {
  readonly label: string;
  readonly value: Id;
  readonly names: Readonly<Record<Id, string>>;
  readonly note: string;
  readonly onChoose: (id: Id) => void;
};

function Choice<Id extends string>({ label, value, names, note, onChoose }: ChoiceProps<Id>) {
  return (
    <label>
      {label}
      <select value={value} onChange={(event) => onChoose(event.currentTarget.value as Id)}>
        {(Object.keys(names) as Id[]).map((id) => (
          <option key={id} value={id}>
            {names[id]}
          </option>
        ))}
      </select>
      <span className="muted">{note}</span>
    </label>
  );
}

type AnswerProps = {
  readonly estimate: RadioEstimate;
  readonly beacon: BeaconProfile;
  readonly receiver: ReceiverProfile;
  readonly radiusM: number;
};

function Answer({ estimate, beacon, receiver, radiusM }: AnswerProps) {
  const say = words.radio;
  const { rangeM, heardM, otherBeacons } = estimate;
  const isSupported = rangeM >= radiusM;
  const radius = formatNumber(radiusM, radiusM % 1 === 0 ? 0 : 1);
  // Rounded down, so that the radius that is proposed is one that the model supports.
  const range = formatNumber(Math.floor(rangeM));
  const unsupported = rangeM < 1 ? say.neverHeard(radius) : say.unsupported(range, radius);
  return (
    <>
      <p className={isSupported ? 'radio-range' : 'notice warning'} role="status" data-testid="model-range">
        {isSupported ? say.supported(range, radius) : unsupported}
      </p>
      <BudgetTable estimate={estimate} receiver={receiver} radius={radius} />
      <DetectionTable estimate={estimate} />
      <p className="muted">{say.detectionNote(otherBeacons, formatNumber(heardM))}</p>
      <p>
        {say.battery(formatNumber(batteryLifeYears({ ...beacon, intervalS: beacon.intervalMs / 1000 }), 1))}
      </p>
      <p>
        {say.powerTitle}:{' '}
        {checkPower(eirpDbm(beacon)).map(({ region, limitDbm, isKept, source }, index) => (
          <span key={region} title={source}>
            {index > 0 && ' · '}
            {say.power(say.regions[region], limitDbm, isKept)}
          </span>
        ))}
      </p>
    </>
  );
}

type BudgetTableProps = Pick<AnswerProps, 'estimate' | 'receiver'> & { readonly radius: string };

function BudgetTable({ estimate, receiver, radius }: BudgetTableProps) {
  const say = words.radio;
  const { terms, levelDbm, leftDb } = estimate.budget;
  const sums = [
    [say.level, levelDbm, 'dBm'],
    [say.sensitivity, receiver.sensitivityDbm, 'dBm'],
    [say.left, leftDb, 'dB'],
  ] as const;
  return (
    <table>
      <caption>{say.budget(radius)}</caption>
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

function DetectionTable({ estimate }: Pick<AnswerProps, 'estimate'>) {
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
function toPercent(share: number): string {
  return words.radio.percent(formatNumber(Math.floor(share * 1000 + 1e-6) / 10, 1));
}

/** `−72.4 dB`, never `−0.0`. */
function toText(value: number, unit: string): string {
  return `${formatNumber(Math.round(value * 10) / 10 + 0, 1).replace('-', '−')} ${unit}`;
}
