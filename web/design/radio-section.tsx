import './radio.css';
import { useMemo, useState } from 'react';
import { describeRefusal } from '../../shared/outcome/words.ts';
import { rulesOf } from '../../shared/pipeline/rules-of.ts';
import { CHOICE_RULES, type NumberRule, type Rules } from '../../shared/placement/rules.ts';
import { PROFILE_VERSIONS } from '../../shared/radio/profiles.ts';
import { useRights } from '../app/use-rights.ts';
import type { DesignSession } from '../session/design-session.ts';
import { type OpenDesign, toShownScheme } from '../session/design-state.ts';
import { words } from '../words.ts';
import { AdviserSection } from './adviser-section.tsx';
import { describeLife } from './describe-life.ts';
import { estimateRadio } from './estimate-radio.ts';
import { makeRuleControls } from './make-rule-controls.tsx';
import { RadioAnswer } from './radio-answer.tsx';

type RadioSectionProps = { readonly session: DesignSession; readonly open: OpenDesign };

/** What the radio model says of this tunnel; computed only while it is open. */
export function RadioSection(props: RadioSectionProps) {
  const [isOpen, setOpen] = useState(false);
  return (
    <section className="radio" aria-label={words.radio.title}>
      <details onToggle={(event) => setOpen(event.currentTarget.open)}>
        <summary>
          <h3>{words.radio.title}</h3>
        </summary>
        {isOpen && <RadioModel {...props} />}
      </details>
    </section>
  );
}

/** The number that belongs to each source of the radius. */
const RADIUS_RULE: Readonly<Record<Rules['coverageSource'], NumberRule | undefined>> = {
  hand: 'coverageRadiusM',
  measured: 'measuredRadiusM',
  model: undefined,
};

function RadioModel({ session, open }: RadioSectionProps) {
  const say = words.radio;
  const { mayEdit } = useRights();
  const { links } = open.network;
  const scheme = toShownScheme(open);
  const rules = useMemo(() => rulesOf(open.surveyRules, scheme), [open.surveyRules, scheme]);
  const estimate = useMemo(() => estimateRadio({ links, rules }), [links, rules]);
  const { control, choice } = makeRuleControls(session, open);
  const life = describeLife(rules);
  const radiusRule = RADIUS_RULE[rules.coverageSource];
  const profiles = [
    CHOICE_RULES.beaconProfile.options[rules.beaconProfile],
    CHOICE_RULES.receiverProfile.options[rules.receiverProfile],
    say.versions(PROFILE_VERSIONS.beacons, PROFILE_VERSIONS.receivers),
  ];
  return (
    <>
      <fieldset className="bare" disabled={!mayEdit}>
        <div className="radio-rules">
          {choice('beaconProfile')}
          {choice('receiverProfile')}
          <p className="muted" data-testid="profiles">
            {profiles.join(' ')}
          </p>
          <p className="muted">{`${say.life}: ${life.text}. ${life.source}`}</p>
          {choice('region')}
          {choice('coverageSource')}
          {radiusRule !== undefined && control(radiusRule)}
          {control('boreHeightM')}
        </div>
      </fieldset>
      {estimate.ok ? (
        <>
          <RadioAnswer estimate={estimate.value} rules={rules} />
          <AdviserSection session={session} links={links} rules={rules} heardM={estimate.value.heardM} />
        </>
      ) : (
        <p className="notice error" role="status">
          {say.refused} {describeRefusal(estimate.refusal)}
        </p>
      )}
      <p className="muted">{say.caution}</p>
    </>
  );
}
