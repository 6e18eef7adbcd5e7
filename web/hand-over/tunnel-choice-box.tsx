import { useState } from 'react';
import { handOverWords } from '../hand-over-words.ts';
import { listTunnels } from '../survey/list-tunnels.ts';
import type { TunnelChoice } from './choose-ids.ts';
import type { useTunnelChoice } from './use-tunnel-choice.ts';

const say = handOverWords.tunnels;
/** So many can be looked through; the rest is found by name. */
const LISTED = 100;

type TunnelChoiceBoxProps = { readonly choice: ReturnType<typeof useTunnelChoice> };

/** All tunnels, those of the table, the open one, or some by name. */
export function TunnelChoiceBox({ choice }: TunnelChoiceBoxProps) {
  const { kind, setKind, all, shown, open, picked } = choice;
  const options: readonly (readonly [TunnelChoice, string])[] = [
    ['all', say.all(all.length)],
    ['shown', say.shown(shown.length)],
    ...(open === undefined ? [] : [['open', say.open(open.name)] as const]),
    ['picked', say.picked(picked.size)],
  ];
  return (
    <fieldset>
      <legend>{say.legend}</legend>
      {options.map(([option, label]) => (
        <label
          className="check hand-over-tunnels"
          key={option}
          title={option === 'shown' ? say.shownNote : undefined}
        >
          <input type="radio" name="tunnels" checked={kind === option} onChange={() => setKind(option)} />
          <span>{label}</span>
        </label>
      ))}
      {kind === 'picked' && <Picker choice={choice} />}
    </fieldset>
  );
}

function Picker({ choice: { all, picked, pick } }: TunnelChoiceBoxProps) {
  const [text, setText] = useState('');
  const found = listTunnels(all, { text, status: 'all', showsCovered: true, showsRestricted: true });
  const byName = [...found].sort((a, b) => a.name.localeCompare(b.name));
  const listed = byName.slice(0, LISTED);
  return (
    <div className="hand-over-picker">
      <input
        type="search"
        aria-label={say.find}
        placeholder={say.find}
        value={text}
        onChange={({ target }) => setText(target.value)}
      />
      <fieldset className="bare hand-over-list" aria-label={say.list}>
        {listed.map(({ id, name, ref }) => (
          <label className="check" key={id}>
            <input
              type="checkbox"
              checked={picked.has(id)}
              onChange={({ target }) => pick(id, target.checked)}
            />
            <span>
              {name} {ref !== undefined && <span className="muted">{ref}</span>}
            </span>
          </label>
        ))}
        {listed.length === 0 && <p>{say.noMatch(text)}</p>}
        {listed.length < byName.length && <p className="muted">{say.more(byName.length - listed.length)}</p>}
      </fieldset>
    </div>
  );
}
