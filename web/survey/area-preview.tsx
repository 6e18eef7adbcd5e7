import { formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';
import type { Preview } from './use-area-preview.ts';

/** How large an area is and what the map server will be asked for it; or why it cannot be asked. */
export function AreaPreview({ preview }: { readonly preview: Preview | undefined }) {
  return (
    <div aria-live="polite">
      {preview === undefined ? (
        <p className="muted">{words.import.fill}</p>
      ) : 'problem' in preview ? (
        <p className="bad">{preview.problem}</p>
      ) : (
        <>
          <p>
            <strong>{words.import.size(formatNumber(preview.areaKm2, preview.areaKm2 < 10 ? 2 : 0))}</strong>
          </p>
          <details>
            <summary>{words.import.question}</summary>
            {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by keyboard */}
            <pre tabIndex={0}>{preview.query}</pre>
          </details>
        </>
      )}
    </div>
  );
}
