import { type Rights, toRights } from '../session/who-session.ts';
import { useStore } from '../ui/use-store.ts';
import { useSessions } from './sessions.ts';

/** What whoever looks at the page may do. */
export function useRights(): Rights {
  const { who } = useSessions();
  return toRights(useStore(who).who);
}
