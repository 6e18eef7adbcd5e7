import { buildDrive, type Driveable } from '../../shared/drive/build-drive.ts';
import type { Drive } from '../../shared/drive/drive.ts';
import type { ComplexNetwork } from '../../shared/network/network.ts';

/** One question, for the worker's whole life: a newer one ends it. */
export type DriveRequest = { readonly network: ComplexNetwork; readonly design: Driveable };

export type DriveReply = { readonly drive?: Drive; readonly error?: string };

self.onmessage = ({ data }: MessageEvent<DriveRequest>) => self.postMessage(answer(data));

function answer({ network, design }: DriveRequest): DriveReply {
  try {
    return { drive: buildDrive(network, design) };
  } catch (error) {
    return { error: error instanceof Error ? error.message : String(error) };
  }
}
