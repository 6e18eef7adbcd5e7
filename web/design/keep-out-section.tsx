import './keep-outs.css';
import { useEffect, useRef } from 'react';
import { makeRuler } from '../../shared/alignment/make-ruler.ts';
import type { BBox } from '../../shared/geodesy/lon-lat.ts';
import type { Link } from '../../shared/network/network.ts';
import type { KeepOut } from '../../shared/placement/keep-out.ts';
import { useSessions } from '../app/sessions.ts';
import { useRights } from '../app/use-rights.ts';
import type { DesignSession } from '../session/design-session.ts';
import type { OpenDesign } from '../session/design-state.ts';
import { formatFineChainage, formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';
import { KeepOutForm } from './keep-out-form.tsx';
import { nameOfLink } from './list-beacon-rows.ts';
import type { KeepOutDrafting } from './use-keep-out-draft.ts';

type KeepOutSectionProps = {
  readonly session: DesignSession;
  readonly open: OpenDesign;
  readonly drafting: KeepOutDrafting;
};

/** Where nothing may be mounted: the list, and a form for one more. */
export function KeepOutSection({ session, open, drafting }: KeepOutSectionProps) {
  const { view } = useSessions();
  const { mayEdit } = useRights();
  const { keepOuts } = open.scheme;
  const { links } = open.network;
  const say = words.keepOuts;
  const section = useRef<HTMLElement>(null);
  const { asked } = drafting;
  useEffect(() => {
    if (asked === 0) return;
    section.current?.scrollIntoView({ block: 'nearest' });
    section.current?.querySelector<HTMLInputElement>('input[type="text"]')?.focus();
  }, [asked]);
  const sorted = [...keepOuts].sort((a, b) => indexOf(a, links) - indexOf(b, links) || a.fromM - b.fromM);
  const remove = ({ id }: KeepOut) => {
    // Its button goes away with it.
    section.current?.querySelector('summary')?.focus();
    session.commit({ kind: 'removeKeepOut', keepOutId: id });
  };
  return (
    <section className="keep-outs" aria-label={say.title} ref={section}>
      <details open={drafting.isOpen} onToggle={(event) => drafting.setOpen(event.currentTarget.open)}>
        <summary>
          <h3>{say.title}</h3>
          <span className="muted" data-testid="keep-out-count">
            {say.count(keepOuts.length)}
          </span>
        </summary>
        {keepOuts.length === 0 && <p className="muted">{say.empty}</p>}
        <ul>
          {sorted.map((keepOut) => (
            <KeepOutItem
              key={keepOut.id}
              keepOut={keepOut}
              links={links}
              onShow={(bounds) => view.goTo(bounds)}
              onRemove={mayEdit ? () => remove(keepOut) : undefined}
            />
          ))}
        </ul>
        {mayEdit && <KeepOutForm session={session} open={open} drafting={drafting} />}
      </details>
    </section>
  );
}

type KeepOutItemProps = {
  readonly keepOut: KeepOut;
  readonly links: readonly Link[];
  readonly onShow: (bounds: BBox) => void;
  readonly onRemove: (() => void) | undefined;
};

function KeepOutItem({ keepOut, links, onShow, onRemove }: KeepOutItemProps) {
  const say = words.keepOuts;
  const { linkId, fromM, toM, wall, reason } = keepOut;
  const link = links.find(({ id }) => id === linkId);
  const stretch = say.stretch(formatFineChainage(fromM), formatFineChainage(toM));
  const more = [
    ...(links.length > 1 && link !== undefined ? [nameOfLink(link)] : []),
    say.walls[wall],
    say.length(formatNumber(toM - fromM, 1)),
    ...(reason === '' ? [] : [reason]),
  ];
  return (
    <li>
      <span>
        <button
          type="button"
          className="link"
          aria-label={say.show(stretch)}
          onClick={() => link !== undefined && onShow(around(link, (fromM + toM) / 2))}
        >
          {stretch}
        </button>{' '}
        <span className="muted">{more.join(' · ')}</span>
      </span>
      {onRemove !== undefined && (
        <button type="button" aria-label={say.removeLong(stretch)} onClick={onRemove}>
          {say.remove}
        </button>
      )}
    </li>
  );
}

/** Half a side of the square that is shown around a place, degrees. */
const AROUND_DEG = 0.0003;

function around(link: Link, chainageM: number): BBox {
  const at = makeRuler(link.line).pointAt(chainageM);
  if (!at.ok) throw new Error(`a keep-out lies outside link ${link.id}`);
  const [lon, lat] = at.value;
  return [lon - AROUND_DEG, lat - AROUND_DEG, lon + AROUND_DEG, lat + AROUND_DEG];
}

function indexOf({ linkId }: KeepOut, links: readonly Link[]): number {
  return links.findIndex(({ id }) => id === linkId);
}
