import type { DesignSession } from '../session/design-session.ts';
import type { DesignState } from '../session/design-state.ts';
import { useStore } from '../ui/use-store.ts';
import { useSessions } from './sessions.ts';

/** The tunnel that is open, if any, with its state. */
export function useDesign(): { session: DesignSession; state: DesignState } | undefined {
  const { designs } = useSessions();
  const { current } = useStore(designs);
  const state = useStore(current ?? NONE);
  return current === undefined || state === undefined ? undefined : { session: current, state };
}

const NONE = { get: () => undefined, subscribe: () => () => {} };
