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

/** What is asked, as it is typed: per cent and km/h. */
const NAMES = ['speed', 'discrepancy', 'error', 'certainty'] as const;
type Name = (typeof NAMES)[number];
const { speedMps, speedDiscrepancy, wantedErrorM, certainty } = QUESTION_FIELDS;
const LIMITS: Readonly<Record<Name, { readonly min: number; readonly max: number; readonly step: number }>> =
  {
    speed: { min: speedMps.min * 3.6, max: speedMps.max * 3.6, step: 1 },
    discrepancy: { min: speedDiscrepancy.min * 100, max: speedDiscrepancy.max * 100, step: 1 },
    error: { min: wantedErrorM.min, max: wantedErrorM.max, step: 1 },
    certainty: { min: certainty.min * 100, max: certainty.max * 100, step: 0.1 },
  };

/** The number that was typed; undefined where it is none or out of range. */
function readField(name: Name, text: string): number | undefined {
  const value = text.trim() === '' ? Number.NaN : Number(text);
  return value >= LIMITS[name].min && value <= LIMITS[name].max ? value : undefined;
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
  const [speed, discrepancy, error, percent] = NAMES.map((name) => readField(name, texts[name]));
  if (speed === undefined || discrepancy === undefined || error === undefined || percent === undefined) {
    return undefined;
  }
  return adviseSpacing({
    beacon: BEACON_PROFILES[rules.beaconProfile],
    receiver: RECEIVER_PROFILES[rules.receiverProfile],
    speedMps: speed / 3.6,
    speedDiscrepancy: discrepancy / 100,
    radiusM: heardM,
    coverageDepth: rules.coverageDepth,
    portalOffsetM: rules.portalOffsetM,
    failureShare: rules.failureShare,
    wantedErrorM: error,
    certainty: percent / 100,
  });
}

type FieldProps = {
  readonly name: Name;
  readonly text: string;
  readonly onType: (text: string) => void;
};

function Field({ name, text, onType }: FieldProps) {
  const say = words.adviser;
  const id = useId();
  const { min, max, step } = LIMITS[name];
  const isBad = readField(name, text) === undefined;
  const unit = say.units[name];
  return (
    <div className="adviser-field">
      <label htmlFor={id} title={say.meanings[name]}>
        {say[name]}
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
