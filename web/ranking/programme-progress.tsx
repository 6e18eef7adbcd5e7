import { useEffect, useState } from 'react';
import { rankingWords } from '../ranking-words.ts';
import { formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';

/** That a programme is being planned, for how long, and a way to give it up. */
export function ProgrammeProgress({ onCancel }: { readonly onCancel: () => void }) {
  const [seconds, setSeconds] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => setSeconds((before) => before + 1), 1000);
    return () => clearInterval(timer);
  }, []);
  const label = rankingWords.programme.working(formatNumber(seconds));
  return (
    <div className="plan-action">
      <button type="button" onClick={onCancel}>
        {words.cancel}
      </button>
      <span>{label}</span>
      <progress aria-label={rankingWords.programme.plan} />
    </div>
  );
}
