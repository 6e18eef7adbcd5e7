import { useDeferredValue, useId, useMemo, useState } from 'react';
import type { Link } from '../../shared/network/network.ts';
import { describeRefusal } from '../../shared/outcome/words.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import { adviseSpacing } from '../../shared/radio/advise-spacing.ts';
import { BEACON_PROFILES, RECEIVER_PROFILES } from '../../shared/radio/profiles.ts';
import { QUESTION_FIELDS } from '../../shared/radio/spacing-question.ts';
import type { DesignSession } from '../session/design-session.ts';
import { words } from '../words.ts';
import { AdviceTable } from './advice-table.tsx';
import { findSpeedMps } from './estimate-radio.ts';

type AdviserProps = {
  readonly session: DesignSession;
  readonly links: readonly Link[];
  readonly rules: Rules;
  /** How far along the bore a beacon is reckoned to be heard, metres. */
  readonly heardM: number;
};

/** Which spacing and redundancy keep a wanted error; computed only while it is open. */
export function AdviserSection(props: AdviserProps) {
  const [isOpen, setOpen] = useState(false);
  return (
    <details className="adviser" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        <h4>{words.adviser.title}</h4>
      </summary>
      {isOpen && <Adviser {...props} />}
    </details>
  );
}

/** What is asked, as it is typed: per cent and km/h, each so many times the unit of the question. */
const FIELDS = {
  speed: { spec: QUESTION_FIELDS.speedMps, times: 3.6, step: 1 },
  discrepancy: { spec: QUESTION_FIELDS.speedDiscrepancy, times: 100, step: 1 },
  error: { spec: QUESTION_FIELDS.wantedErrorM, times: 1, step: 1 },
  certainty: { spec: QUESTION_FIELDS.certainty, times: 100, step: 0.1 },
} as const;
type Name = keyof typeof FIELDS;
const NAMES = Object.keys(FIELDS) as readonly Name[];

/** What was typed, in the unit of the question; undefined where it is no number or out of range. */
function readField(name: Name, text: string): number | undefined {
  const { spec, times } = FIELDS[name];
  const value = text.trim() === '' ? Number.NaN : Number(text) / times;
  return value >= spec.min && value <= spec.max ? value : undefined;
}

function Adviser({ session, links, rules, heardM }: AdviserProps) {
  const [texts, setTexts] = useState<Readonly<Record<Name, string>>>(() => ({
    speed: String(Math.round(findSpeedMps(links) * 3.6)),
    discrepancy: '20',
    error: '30',
    certainty: '95',
  }));
  // What is typed is shown at once; the advice follows.
  const asked = useDeferredValue(texts);
  const advice = useMemo(() => ask(asked, rules, heardM), [asked, rules, heardM]);
  return (
    <>
      <div className="adviser-fields">
        {NAMES.map((name) => (
          <Field
            key={name}
            name={name}
            text={texts[name]}
            onType={(text) => setTexts((before) => ({ ...before, [name]: text }))}
          />
        ))}
      </div>
      {advice === undefined ? null : advice.ok ? (
        <AdviceTable session={session} rules={rules} advice={advice.value} heardM={heardM} />
      ) : (
        <p className="notice error" role="status">
          {words.radio.refused} {describeRefusal(advice.refusal)}
        </p>
      )}
    </>
  );
}

function ask(texts: Readonly<Record<Name, string>>, rules: Rules, heardM: number) {
  const [speedMps, speedDiscrepancy, wantedErrorM, certainty] = NAMES.map((name) =>
    readField(name, texts[name]),
  );
  if (speedMps === undefined || speedDiscrepancy === undefined) return undefined;
  if (wantedErrorM === undefined || certainty === undefined) return undefined;
  // That no beacon is heard is said already, with what helps.
  if (heardM < QUESTION_FIELDS.radiusM.min) return undefined;
  return adviseSpacing({
    beacon: BEACON_PROFILES[rules.beaconProfile],
    receiver: RECEIVER_PROFILES[rules.receiverProfile],
    speedMps,
    speedDiscrepancy,
    radiusM: heardM,
    coverageDepth: rules.coverageDepth,
    portalOffsetM: rules.portalOffsetM,
    failureShare: rules.failureShare,
    wantedErrorM,
    certainty,
  });
}

type FieldProps = {
  readonly name: Name;
  readonly text: string;
  readonly onType: (text: string) => void;
};

function Field({ name, text, onType }: FieldProps) {
  const id = useId();
  const { spec, times, step } = FIELDS[name];
  const [min, max] = [spec.min * times, spec.max * times];
  const isBad = readField(name, text) === undefined;
  const unit = words.adviser.units[name];
  return (
    <div className="adviser-field">
      <label htmlFor={id} title={spec.meaning}>
        {spec.label}
      </label>
      <input
        id={id}
        type="number"
        inputMode="decimal"
        min={min}
        max={max}
        step={step}
        value={text}
        onChange={(event) => onType(event.currentTarget.value)}
        aria-invalid={isBad}
        aria-describedby={isBad ? `${id}-range` : undefined}
      />
      <span className="unit">{unit}</span>
      {isBad && (
        <span id={`${id}-range`} className="bad">
          {words.rules.range(min, max, unit)}
        </span>
      )}
    </div>
  );
}
