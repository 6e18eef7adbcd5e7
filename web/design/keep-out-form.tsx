import { type FormEvent, type KeyboardEvent, useId, useRef, useState } from 'react';
import type { Link, LinkId } from '../../shared/network/network.ts';
import { KEPT_WALLS } from '../../shared/placement/keep-out.ts';
import { makeCommandId } from '../session/command-id.ts';
import type { DesignSession } from '../session/design-session.ts';
import { findPlace } from '../session/design-session.ts';
import type { OpenDesign } from '../session/design-state.ts';
import { formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';
import { EMPTY_DRAFT, readDraft } from './keep-out-draft.ts';
import { nameOfLink } from './list-beacon-rows.ts';
import type { KeepOutDrafting } from './use-keep-out-draft.ts';

type KeepOutFormProps = {
  readonly session: DesignSession;
  readonly open: OpenDesign;
  readonly drafting: KeepOutDrafting;
};

/** One more keep-out: Enter adds it, Escape clears the form. */
export function KeepOutForm({ session, open, drafting }: KeepOutFormProps) {
  const { draft, change, clear } = drafting;
  const { links } = open.network;
  const say = words.keepOuts;
  const id = useId();
  const from = useRef<HTMLInputElement>(null);
  const [isAsked, setAsked] = useState(false);
  const chosen = open.beaconId === undefined ? undefined : findPlace(open, open.beaconId)?.linkId;
  const link = find(links, draft.linkId) ?? find(links, chosen) ?? links[0];
  if (link === undefined) return null;
  const { keepOut, faults } = readDraft(draft, link, isAsked);
  const isEmpty = draft === EMPTY_DRAFT;
  const reset = () => {
    clear();
    setAsked(false);
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    setAsked(true);
    if (keepOut === undefined) return;
    session.commit({ kind: 'addKeepOut', keepOut: { id: makeCommandId(), ...keepOut } });
    reset();
    from.current?.focus();
  };
  const key = (event: KeyboardEvent) => {
    if (event.key !== 'Escape' || isEmpty) return;
    event.stopPropagation();
    reset();
  };
  const end = (name: 'from' | 'to') => (
    <label className="keep-out-end">
      {say[name]}
      <input
        ref={name === 'from' ? from : undefined}
        type="text"
        inputMode="decimal"
        autoComplete="off"
        value={draft[name]}
        aria-invalid={faults[name] !== undefined}
        aria-describedby={`${id}-${name}`}
        onChange={(event) => change({ [name]: event.currentTarget.value })}
      />
    </label>
  );
  return (
    <form aria-label={say.form} noValidate onSubmit={submit} onKeyDown={key}>
      {links.length > 1 && (
        <LinkSelect links={links} value={link.id} onChange={(linkId) => change({ linkId })} />
      )}
      <div className="keep-out-row">
        {end('from')}
        {end('to')}
        <WallChoice wall={draft.wall} name={id} onChange={(wall) => change({ wall })} />
      </div>
      <p id={`${id}-from`} className={faults.from === undefined ? 'hint muted' : 'bad'} role="status">
        {faults.from === undefined ? say.hint(formatNumber(link.lengthM, 1)) : `${say.from}: ${faults.from}`}
      </p>
      <p id={`${id}-to`} className="bad" role="status" hidden={faults.to === undefined}>
        {faults.to !== undefined && `${say.to}: ${faults.to}`}
      </p>
      <div className="keep-out-row">
        <label className="keep-out-reason">
          {say.reason}
          <input
            type="text"
            autoComplete="off"
            maxLength={200}
            placeholder={say.reasonHint}
            value={draft.reason}
            onChange={(event) => change({ reason: event.currentTarget.value })}
          />
        </label>
        <button type="submit">{say.add}</button>
        {!isEmpty && (
          <button type="button" className="quiet" onClick={reset}>
            {say.clear}
          </button>
        )}
      </div>
    </form>
  );
}

type LinkSelectProps = {
  readonly links: readonly Link[];
  readonly value: LinkId;
  readonly onChange: (linkId: LinkId) => void;
};

function LinkSelect({ links, value, onChange }: LinkSelectProps) {
  return (
    <label className="keep-out-link">
      {words.keepOuts.link}
      <select value={value} onChange={(event) => onChange(event.currentTarget.value as LinkId)}>
        {links.map((link, i) => (
          <option key={link.id} value={link.id}>
            {words.beacons.link(i + 1, links.length, nameOfLink(link), formatNumber(link.lengthM))}
          </option>
        ))}
      </select>
    </label>
  );
}

type Walls = (typeof KEPT_WALLS)[number];
type WallChoiceProps = {
  readonly wall: Walls;
  readonly name: string;
  readonly onChange: (wall: Walls) => void;
};

function WallChoice({ wall, name, onChange }: WallChoiceProps) {
  return (
    <fieldset className="keep-out-wall">
      <legend>{words.keepOuts.wall}</legend>
      <div className="segments">
        {KEPT_WALLS.map((one) => (
          <label key={one}>
            <input type="radio" name={name} checked={one === wall} onChange={() => onChange(one)} />
            {words.keepOuts.wallsShort[one]}
          </label>
        ))}
      </div>
    </fieldset>
  );
}

function find(links: readonly Link[], id: LinkId | undefined): Link | undefined {
  return links.find((link) => link.id === id);
}
