import { rankingWords } from '../ranking-words.ts';
import type { EvidenceKind } from '../session/api.ts';

const say = rankingWords.evidence;

type ExpectedColumnsProps = { readonly kind: EvidenceKind; readonly isOpen: boolean };

/** What a file has to look like, with an example. */
export function ExpectedColumns({ kind, isOpen }: ExpectedColumnsProps) {
  const own = say[kind];
  return (
    <details open={isOpen}>
      <summary>{say.expected}</summary>
      <p>
        {own.format} {own.rule}
      </p>
      <table>
        <thead>
          <tr>
            <th scope="col">{say.columns.column}</th>
            <th scope="col">{say.columns.what}</th>
          </tr>
        </thead>
        <tbody>
          {own.rows.map(([name, what, isNeeded]) => (
            <tr key={name}>
              <th scope="row">
                <code>{name}</code>
              </th>
              <td>
                {what}
                {isNeeded && <strong> ({say.needed})</strong>}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by keyboard */}
      <pre tabIndex={0}>{own.example}</pre>
    </details>
  );
}
