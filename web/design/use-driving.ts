import { useEffect, useState } from 'react';
import type { Drive } from '../../shared/drive/drive.ts';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import type { Design } from '../../shared/placement/design.ts';
import type { DriveReply, DriveRequest } from '../worker/drive-worker.ts';

/** `drive` is that of an older design while a newer one is computed. */
export type DriveState = {
  readonly drive: Drive | undefined;
  readonly isComputing: boolean;
  readonly error: string | undefined;
};

/** A beacon that is being dragged makes designs faster than they are driven. */
const QUIET_MS = 150;

/** Drives a design in a worker of its own; a newer design ends the drive of the one before. */
export function useDriving(network: ComplexNetwork, design: Design): DriveState {
  const [state, setState] = useState<DriveState>({ drive: undefined, isComputing: true, error: undefined });
  useEffect(() => {
    let worker: Worker | undefined;
    const fail = (error: string) => setState({ drive: undefined, isComputing: false, error });
    const start = () => {
      worker = new Worker(new URL('../worker/drive-worker.ts', import.meta.url), { type: 'module' });
      worker.onmessage = ({ data }: MessageEvent<DriveReply>) => {
        worker?.terminate();
        if (data.drive === undefined) fail(data.error ?? 'no answer');
        else setState({ drive: data.drive, isComputing: false, error: undefined });
      };
      worker.onerror = (event) => {
        worker?.terminate();
        fail(event.message || 'the worker failed');
      };
      const { rules, beacons, coverage } = design;
      worker.postMessage({ network, design: { rules, beacons, coverage } } satisfies DriveRequest);
    };
    setState(({ drive }) => ({ drive, isComputing: true, error: undefined }));
    const timer = setTimeout(start, QUIET_MS);
    return () => {
      clearTimeout(timer);
      worker?.terminate();
    };
  }, [network, design]);
  return state;
}
