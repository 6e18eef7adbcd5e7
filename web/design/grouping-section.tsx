import './grouping.css';
import { useMemo, useRef, useState } from 'react';
import { useSessions } from '../app/sessions.ts';
import { useOpenView } from '../app/use-open-view.ts';
import { useRights } from '../app/use-rights.ts';
import type { OpenDesign } from '../session/design-state.ts';
import type { SurveyEdit } from '../session/survey-editor.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { JoinBox } from './join-box.tsx';
import { type GroupingRow, listGroupings } from './list-groupings.ts';
import { findJoin, listOverrides, type Override } from './list-overrides.ts';

type GroupingSectionProps = { readonly row: TunnelRow; readonly open: OpenDesign };
type Failure = { readonly at: string; readonly detail: string };

/** Why the bores of a tunnel are one, and ways to say that they are not, or that others belong to it. */
export function GroupingSection({ row, open }: GroupingSectionProps) {
  const { surveys, editor } = useSessions();
  const { openId, open: survey } = useStore(surveys);
  const { isWorking } = useStore(editor);
  const { mayEdit } = useRights();
  const [failure, setFailure] = useState<Failure>();
  const [isJoining, setJoining] = useState(false);
  const summary = useRef<HTMLElement>(null);
  const joinButton = useRef<HTMLButtonElement>(null);
  const groupings = useMemo(() => listGroupings(open.network), [open.network]);
  const rows = survey?.status === 'ready' ? survey.value.rows : [];
  const overrides = useOpenView()?.overrides ?? [];
  const joins = new Map(
    groupings.flatMap(({ key, grouping, sides }) => {
      const join =
        grouping.reason === 'by-hand' && sides !== undefined ? findJoin(sides, overrides) : undefined;
      return join === undefined ? [] : [[key, join] as const];
    }),
  );
  const named = new Set([...joins.values()].map(({ commandId }) => commandId));
  const byHand = listOverrides(row, rows, overrides, named);
  const edit = async (at: string, command: SurveyEdit, says: string) => {
    if (openId === undefined) return;
    setFailure(undefined);
    const problem = await editor.edit(openId, command, says);
    if (problem !== undefined && problem !== 'busy') setFailure({ at, detail: problem.detail });
    else if (problem === undefined) {
      setJoining(false);
      // What was pressed may be gone.
      summary.current?.focus();
    }
  };
  const undo = (commandId: string) =>
    edit(commandId, { kind: 'revert', revertedId: commandId }, words.grouping.undone);
  return (
    <details className="grouping">
      <summary ref={summary}>{words.grouping.title}</summary>
      {groupings.length === 0 && <p className="muted">{words.grouping.none}</p>}
      <ul>
        {groupings.map((one) => (
          <GroupingItem
            key={one.key}
            row={one}
            join={joins.get(one.key)}
            isWorking={isWorking}
            failure={failure}
            onEdit={(command, says) => void edit(one.key, command, says)}
            onUndo={(commandId) => void undo(commandId)}
          />
        ))}
        {byHand.map(({ commandId, text }) => (
          <li key={commandId}>
            <span>{text}</span>
            {mayEdit && (
              <button
                type="button"
                disabled={isWorking}
                aria-label={words.grouping.undoLong(text)}
                onClick={() => void undo(commandId)}
              >
                {words.grouping.undo}
              </button>
            )}
            <FailureNote failure={failure} at={commandId} />
          </li>
        ))}
      </ul>
      <p className="muted">{words.grouping.carried}</p>
      {!mayEdit ? null : isJoining ? (
        <JoinBox
          row={row}
          isWorking={isWorking}
          failure={failure?.at === JOIN ? failure.detail : undefined}
          onJoin={({ row: other, ways }) =>
            void edit(JOIN, { kind: 'join', ways: [...ways] }, words.grouping.joinDone(row.name, other.name))
          }
          onClose={() => {
            setJoining(false);
            requestAnimationFrame(() => joinButton.current?.focus());
          }}
        />
      ) : (
        <button type="button" ref={joinButton} disabled={isWorking} onClick={() => setJoining(true)}>
          {words.grouping.join}
        </button>
      )}
    </details>
  );
}

const JOIN = 'join';

type GroupingItemProps = {
  readonly row: GroupingRow;
  /** The join by hand that this grouping rests on. */
  readonly join: Override | undefined;
  readonly isWorking: boolean;
  readonly failure: Failure | undefined;
  readonly onEdit: (command: SurveyEdit, says: string) => void;
  readonly onUndo: (commandId: string) => void;
};

function GroupingItem({ row, join, isWorking, failure, onEdit, onUndo }: GroupingItemProps) {
  const say = words.grouping;
  const { grouping, sides, key } = row;
  const { mayEdit } = useRights();
  const reason = say.reasons[grouping.reason] ?? grouping.reason;
  const text = grouping.detail === '' || join !== undefined ? reason : `${reason}: ${grouping.detail}`;
  return (
    <li>
      <span>
        {text}
        {sides !== undefined && (
          <span className="muted sides">{say.between(sides[0].name, sides[1].name)}</span>
        )}
      </span>
      {!mayEdit ? null : join !== undefined ? (
        <button
          type="button"
          disabled={isWorking}
          aria-label={say.undoLong(text)}
          onClick={() => onUndo(join.commandId)}
        >
          {say.undo}
        </button>
      ) : (
        sides !== undefined && (
          <button
            type="button"
            disabled={isWorking}
            aria-label={say.splitLong(sides[0].name, sides[1].name)}
            onClick={() =>
              onEdit(
                { kind: 'split', ways: [sides[0].wayId, sides[1].wayId] },
                say.splitDone(sides[0].name, sides[1].name),
              )
            }
          >
            {isWorking ? say.working : say.split}
          </button>
        )
      )}
      <FailureNote failure={failure} at={key} />
      {join !== undefined && <FailureNote failure={failure} at={join.commandId} />}
    </li>
  );
}

function FailureNote({ failure, at }: { readonly failure: Failure | undefined; readonly at: string }) {
  if (failure?.at !== at) return null;
  return (
    <p className="bad" role="alert">
      {failure.detail}
    </p>
  );
}
