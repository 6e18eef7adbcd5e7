import { Client } from 'pg';
import type { ChangeBus, StoreChange } from './changes.ts';

/** What servers on one database tell each other by. */
export const CHANNEL = 'boremark_changes';

const FIRST_RETRY_MS = 500;
const LONGEST_RETRY_MS = 30_000;

/**
 * Passes on to `bus` what any server tells on the channel, over a connection of its own. Where that breaks it is opened
 * again; since something may have been missed, everything counts as changed then. Returns how to stop.
 */
export async function followChanges(
  url: string,
  bus: ChangeBus,
  onError: (error: Error) => void,
): Promise<() => Promise<void>> {
  let isStopped = false;
  let client: Client | undefined;
  let timer: NodeJS.Timeout | undefined;
  let retryMs = FIRST_RETRY_MS;

  const connect = async () => {
    const opened = new Client({ connectionString: url, keepAlive: true });
    client = opened;
    opened.on('notification', ({ payload = '{}' }) => bus.emit(JSON.parse(payload) as StoreChange));
    opened.on('error', onError);
    opened.once('end', () => {
      if (client === opened) again();
    });
    await opened.connect();
    await opened.query(`listen ${CHANNEL}`);
    retryMs = FIRST_RETRY_MS;
  };
  const again = () => {
    client = undefined;
    if (isStopped) return;
    timer = setTimeout(async () => {
      try {
        await connect();
        bus.emit({});
      } catch (error) {
        onError(error as Error);
        again();
      }
    }, retryMs);
    retryMs = Math.min(LONGEST_RETRY_MS, 2 * retryMs);
  };

  await connect();
  return async () => {
    isStopped = true;
    clearTimeout(timer);
    const last = client;
    client = undefined;
    await last?.end();
  };
}
