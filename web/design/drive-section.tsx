import './drive.css';
import { lazy, Suspense, useState } from 'react';
import { driveWords as say } from '../drive-words.ts';
import type { OpenDesign } from '../session/design-state.ts';

const DriveAnswer = lazy(() => import('./drive-answer.tsx'));

/** How this tunnel is driven, without beacons and with its design; loaded and computed only while it is open. */
export function DriveSection({ open }: { readonly open: OpenDesign }) {
  const [isOpen, setOpen] = useState(false);
  return (
    <section className="drive" aria-label={say.title}>
      <details onToggle={(event) => setOpen(event.currentTarget.open)}>
        <summary>
          <h3>{say.title}</h3>
        </summary>
        {isOpen && open.shown === undefined && <p role="status">{open.fault ?? say.computing}</p>}
        {isOpen && open.shown !== undefined && (
          <Suspense fallback={<p role="status">{say.computing}</p>}>
            <DriveAnswer network={open.network} design={open.shown.design} />
          </Suspense>
        )}
      </details>
    </section>
  );
}
