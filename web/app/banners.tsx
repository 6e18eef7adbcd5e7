import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { useSessions } from './sessions.ts';

/** What concerns the whole page: the server is away, edits of tunnels that are not open wait to be saved. */
export function Banners() {
  const { connection, designs, surveys } = useSessions();
  const { isDown } = useStore(connection);
  const { parkedCount } = useStore(designs);
  const { open } = useStore(surveys);
  const context = open?.status === 'ready' ? open.value.later.context : undefined;
  return (
    <>
      {isDown && (
        <div className="notice error" role="alert">
          <p>{words.server.down}</p>
          <button type="button" onClick={() => void connection.retry()}>
            {words.retry}
          </button>
        </div>
      )}
      {parkedCount > 0 && (
        <div className="notice warning" role="alert">
          <p>{words.saving.parked(parkedCount)}</p>
          <button type="button" onClick={() => void designs.retryAll()}>
            {words.retry}
          </button>
        </div>
      )}
      {context?.status === 'failed' && !isDown && (
        <div className="notice warning" role="alert">
          <p>
            {words.map.background} {context.problem.detail}
          </p>
          <button type="button" onClick={() => surveys.want('context')}>
            {words.retry}
          </button>
        </div>
      )}
    </>
  );
}
