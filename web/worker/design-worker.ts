import type { ComplexNetwork } from '../../shared/network/network.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import type { Scheme } from '../../shared/scheme/scheme.ts';
import { buildShownDesign, type ShownDesign } from './shown-design.ts';

/** `open` once for a complex, then `design` for each scheme of it. */
export type DesignRequest =
  | { readonly kind: 'open'; readonly key: number; readonly network: ComplexNetwork; readonly rules: Rules }
  | { readonly kind: 'close'; readonly key: number }
  | { readonly kind: 'design'; readonly key: number; readonly job: number; readonly scheme: Scheme };

export type DesignReply = { readonly job: number; readonly shown?: ShownDesign; readonly error?: string };

const open = new Map<number, { network: ComplexNetwork; rules: Rules }>();

self.onmessage = ({ data }: MessageEvent<DesignRequest>) => {
  if (data.kind === 'open') open.set(data.key, { network: data.network, rules: data.rules });
  else if (data.kind === 'close') open.delete(data.key);
  else self.postMessage(answer(data));
};

function answer({ key, job, scheme }: Extract<DesignRequest, { kind: 'design' }>): DesignReply {
  const known = open.get(key);
  if (known === undefined) return { job, error: 'the tunnel is not open' };
  try {
    return { job, shown: buildShownDesign(known.network, known.rules, scheme) };
  } catch (error) {
    return { job, error: error instanceof Error ? error.message : String(error) };
  }
}
