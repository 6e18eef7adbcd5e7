import { accountWords as say } from '../account-words.ts';
import { useSessions } from '../app/sessions.ts';
import { toRights } from '../session/who-session.ts';
import { useStore } from '../ui/use-store.ts';

/** Why nothing can be changed, said once for the whole panel. */
export function ReadingOnly() {
  const { who } = useStore(useSessions().who);
  if (toRights(who).mayEdit) return null;
  return (
    <p className="reading-only muted" data-testid="reading-only">
      {who.account === undefined ? say.readingShare : say.readingAccount}
    </p>
  );
}
