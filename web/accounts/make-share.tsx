import { type FormEvent, useState } from 'react';
import type { MadeShare } from '../../shared/wire/accounts.ts';
import { accountWords } from '../account-words.ts';
import { useSessions } from '../app/sessions.ts';
import { LONGEST_SHARE_DAYS } from './limits.ts';

const say = accountWords.share;
const USUAL_DAYS = 30;

type MakeShareProps = { readonly surveyId: string; readonly onMade: (made: MadeShare) => void };

/** For whom a link is and how long it holds. */
export function MakeShare({ surveyId, onMade }: MakeShareProps) {
  const { accounts } = useSessions();
  const [label, setLabel] = useState('');
  const [days, setDays] = useState(String(USUAL_DAYS));
  const [isBusy, setBusy] = useState(false);
  const [problem, setProblem] = useState<string>();
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    if (isBusy) return;
    const form = event.currentTarget;
    const fail = (detail: string, field: string) => {
      setProblem(detail);
      form.querySelector<HTMLInputElement>(`[name="${field}"]`)?.focus();
    };
    if (label.trim() === '') return fail(say.missing, 'label');
    const count = Number(days);
    const isSound = Number.isInteger(count) && count >= 1 && count <= LONGEST_SHARE_DAYS;
    if (!isSound) return fail(say.daysRange(LONGEST_SHARE_DAYS), 'days');
    setBusy(true);
    const answer = await accounts.share(surveyId, { label: label.trim(), days: count });
    setBusy(false);
    if (!answer.ok) return fail(answer.problem.detail, 'label');
    onMade(answer.value);
  };
  return (
    <form className="make-share" onSubmit={(event) => void submit(event)} noValidate aria-busy={isBusy}>
      <label className="stacked">
        {say.label}
        <input
          name="label"
          autoComplete="off"
          maxLength={100}
          placeholder={say.labelHint}
          value={label}
          onChange={(event) => setLabel(event.target.value)}
        />
      </label>
      <label className="stacked">
        {say.days}
        <input
          name="days"
          type="number"
          inputMode="numeric"
          min={1}
          max={LONGEST_SHARE_DAYS}
          value={days}
          onChange={(event) => setDays(event.target.value)}
        />
      </label>
      <button type="submit" className="primary" aria-disabled={isBusy}>
        {isBusy ? say.working : say.make}
      </button>
      {problem !== undefined && (
        <p className="bad" role="alert">
          {problem}
        </p>
      )}
    </form>
  );
}
