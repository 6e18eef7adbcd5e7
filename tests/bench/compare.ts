/** Rounds that count; one more before them warms up. */
const ROUNDS = 7;

export type Job = {
  readonly name: string;
  /** Does the job; the result is kept alive so that nothing is optimised away. */
  readonly run: () => number | Promise<number>;
  /** The result is the job's own time in milliseconds: it runs in another process that has a clock. */
  readonly timesItself?: true;
};

/**
 * A job of many equal parts, told in parts a second. A reference is set beside the first job; `goal`: so many times as
 * fast as the reference that one should be.
 */
export type RateJob = Job & { readonly count: number; readonly isReference?: true; readonly goal?: number };

const kept: number[] = [];

/** How many results were kept alive. */
export function countKept(): number {
  return kept.length;
}

/** Prints the median time of each job and its ratio to the last one, the reference. */
export async function compareTimes(title: string, jobs: readonly Job[], goalMs?: number): Promise<void> {
  const times = await measure(jobs);
  const referenceMs = times.at(-1) ?? Number.NaN;
  console.log(goalMs === undefined ? title : `${title} (goal: below ${goalMs} ms)`);
  for (const [i, { name }] of jobs.entries()) {
    const ms = times[i] ?? Number.NaN;
    console.log(
      `  ${name.padEnd(60)} ${ms.toFixed(2).padStart(9)} ms  ${show(ms / referenceMs)} × reference`,
    );
  }
}

/** Prints how many parts a second each job does, and how many times as fast as each reference the first one is. */
export async function compareRates(title: string, jobs: readonly RateJob[]): Promise<void> {
  const times = await measure(jobs);
  const rates = jobs.map(({ count }, i) => (count / (times[i] ?? Number.NaN)) * 1000);
  console.log(title);
  for (const [i, { name, isReference, goal }] of jobs.entries()) {
    const rate = rates[i] ?? Number.NaN;
    const ratio = (rates[0] ?? Number.NaN) / rate;
    const wanted = goal === undefined ? '' : ` (goal: ${goal})`;
    const told = isReference !== true ? '' : `  ours is ${show(ratio)} × as fast${wanted}`;
    console.log(`  ${name.padEnd(60)} ${Math.round(rate).toLocaleString('en').padStart(12)} /s${told}`);
  }
}

/** A generator of numbers from 0 to 1, the same for the same seed. */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1664525 + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** The median milliseconds of each job. */
async function measure(jobs: readonly Job[]): Promise<readonly number[]> {
  const times = jobs.map((): number[] => []);
  for (let round = 0; round <= ROUNDS; round += 1) {
    // In turn, so that a slow moment of the machine hits all of them; round 0 warms up.
    for (const [i, job] of jobs.entries()) {
      const start = process.hrtime.bigint();
      const result = await job.run();
      const ms = job.timesItself ? result : Number(process.hrtime.bigint() - start) / 1e6;
      kept.push(result);
      if (round > 0) times[i]?.push(ms);
    }
  }
  return times.map(median);
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

function show(ratio: number): string {
  return ratio < 10 ? ratio.toFixed(3) : ratio.toFixed(0);
}
