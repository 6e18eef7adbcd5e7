import { describe, expect, it } from 'vitest';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { apply, empty, network, spacing } from '../session/tunnel.fixture.ts';
import { createDesigners, type DesignPort } from './create-designer.ts';
import type { DesignReply, DesignRequest } from './design-worker.ts';
import { buildShownDesign } from './shown-design.ts';

/** Workers whose answers come when the test lets them; each knows only what it was told itself. */
function makeWorkers() {
  const workers: (DesignPort & { run(): void; requests: DesignRequest[] })[] = [];
  const start = (): DesignPort => {
    const known = new Set<number>();
    const requests: DesignRequest[] = [];
    const worker = {
      requests,
      onmessage: null as DesignPort['onmessage'],
      onerror: null as DesignPort['onerror'],
      terminate: () => {},
      postMessage: (request: DesignRequest) => void requests.push(request),
      run() {
        const request = requests.shift();
        if (request === undefined) throw new Error('nothing was asked');
        if (request.kind === 'open') known.add(request.key);
        if (request.kind !== 'design') return;
        const reply: DesignReply = known.has(request.key)
          ? { job: request.job, shown: buildShownDesign(network, DEFAULT_RULES, request.scheme) }
          : { job: request.job, error: 'the tunnel is not open' };
        worker.onmessage?.({ data: reply } as MessageEvent<DesignReply>);
      },
    };
    workers.push(worker as never);
    return worker as never;
  };
  return { workers, start };
}

describe('a designer', () => {
  it('answers with the core’s design', async () => {
    const { workers, start } = makeWorkers();
    const asked = createDesigners(start)(network, DEFAULT_RULES).design(empty);
    workers[0]?.run();
    workers[0]?.run();
    expect((await asked)?.design.beacons).toHaveLength(11);
  });

  it('skips questions that a newer one made void', async () => {
    const { workers, start } = makeWorkers();
    const designer = createDesigners(start)(network, DEFAULT_RULES);
    const schemes = [60, 70, 80].map((value) => apply(empty, spacing(`edit-${value}`, value)));
    const asked = schemes.map((scheme) => designer.design(scheme));
    for (let i = 0; i < 3; i += 1) workers[0]?.run();
    const counts = (await Promise.all(asked)).map((shown) => shown?.design.rules.spacingM);
    expect(counts).toEqual([60, undefined, 80]);
    expect(workers[0]?.requests).toEqual([]);
  });

  it('tells a worker’s failure and goes on with a new one', async () => {
    const { workers, start } = makeWorkers();
    const designer = createDesigners(start)(network, DEFAULT_RULES);
    const failed = designer.design(empty);
    workers[0]?.onerror?.({ message: 'out of memory' } as ErrorEvent);
    await expect(failed).rejects.toThrow('out of memory');
    const asked = designer.design(empty);
    workers[1]?.run();
    workers[1]?.run();
    expect((await asked)?.design.beacons).toHaveLength(11);
  });
});
