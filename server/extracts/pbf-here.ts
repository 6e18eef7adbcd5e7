import { setImmediate } from 'node:timers/promises';
import { RefusalError } from '../../shared/outcome/refusal.ts';
import { type Answers, makePass } from './pbf-passes.ts';
import { batchOf, makeBatchReader, type PbfRunner, sizeOf } from './pbf-runner.ts';

/** Reads the open file in the thread that asks, which can do other things, such as cancel, after every few blobs. */
export function makePbfRunner(file: number, signal: AbortSignal | undefined): PbfRunner {
  return {
    async run(pass, blobs, onAnswer, onBytes) {
      const read = makeBatchReader(file, makePass(pass));
      const batch = batchOf(blobs);
      for (let first = 0; first < blobs.length; first += batch) {
        if (signal?.aborted) throw new RefusalError('job-cancelled');
        const taken = blobs.slice(first, first + batch);
        const answers = read(taken) as Answers[typeof pass.kind][];
        answers.forEach((answer, index) => {
          onAnswer(answer, first + index);
        });
        onBytes(sizeOf(taken));
        await setImmediate();
      }
    },
    async close() {},
  };
}
