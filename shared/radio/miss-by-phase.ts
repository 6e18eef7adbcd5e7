/** A beacon's advertising and a receiver's scanning, in milliseconds. */
export type Pass = {
  /** How long the receiver is in range. */
  readonly durationMs: number;
  /** Advertising interval without the random delay that each event adds. */
  readonly advertisingMs: number;
  readonly windowMs: number;
  readonly intervalMs: number;
  readonly airTimeMs: number;
  /** Chance that a PDU that was sent into an open window is received, 0 to 1. */
  readonly reception: number;
};

/** Each event comes 0 to 10 ms later than the interval says, uniformly. */
const GREATEST_DELAY_MS = 10;
/** From the end of one PDU to the next channel's: the radio retunes. A project default. */
const RETUNE_MS = 0.15;
const CHANNELS = 3;
/** Cells of time: so many in the shortest stretch that matters, and never longer than half the delay. */
const CELLS_PER_STRETCH = 24;
const LONGEST_CELL_MS = GREATEST_DELAY_MS / 2;
const SHORTEST_CELL_MS = 0.5;
/** Phases of the scan in the shortest stretch that matters. */
const PHASES_PER_STRETCH = 4;
const FEWEST_PHASES = 24;
/** Cells of all walks together: windows of a few ms in a long pass are looked at from fewer phases. */
const MOST_CELLS = 8e6;
/** Below this the rest of a pass is not looked at: the beacon was heard. */
const NOTHING = 1e-9;

/**
 * Chance that no event of a pass is received, for phases of the scan spread evenly over one round of the three
 * channels (3 × interval): entry k belongs to a pass that ends at the phase k/n of the round. Deterministic.
 *
 * M(x) is the chance to miss all of the last x ms if an event falls there. Going back from the end,
 * M(x) = (1 − reception · open(x)) · mean of M(x − interval − delay), and M = 1 after the end. With C = ∫M the mean
 * over the delay is a difference of C, so that one walk over the time answers one phase.
 */
export function missByPhase(pass: Pass): Float64Array {
  const roundMs = CHANNELS * pass.intervalMs;
  const stretchMs = Math.min(pass.windowMs, pass.advertisingMs, pass.durationMs);
  const wantedMs = Math.min(LONGEST_CELL_MS, Math.max(SHORTEST_CELL_MS, stretchMs / CELLS_PER_STRETCH));
  const most = Math.max(FEWEST_PHASES, Math.floor((MOST_CELLS * wantedMs) / pass.durationMs));
  const phases = Math.min(
    most,
    Math.max(FEWEST_PHASES, Math.ceil((roundMs / stretchMs) * PHASES_PER_STRETCH)),
  );
  const cellsPerPhase = Math.ceil(roundMs / phases / wantedMs);
  const cellMs = roundMs / phases / cellsPerPhase;
  const open = openShares(pass, phases * cellsPerPhase, cellMs);
  const walk = makeWalk(pass, open, cellMs);
  return Float64Array.from({ length: phases }, (_, phase) => walk(phase * cellsPerPhase));
}

/** For each cell of the round: which share of it an event may start in and be received. */
function openShares(pass: Pass, cells: number, cellMs: number): Float64Array {
  const open = new Float64Array(cells);
  const stepMs = pass.airTimeMs + RETUNE_MS;
  for (let channel = 0; channel < CHANNELS; channel++) {
    // An event starts with the first channel; the PDU of this one has to lie in the window as a whole.
    const fromMs = channel * (pass.intervalMs - stepMs);
    const toMs = fromMs + pass.windowMs - pass.airTimeMs;
    for (let cell = Math.floor(fromMs / cellMs); cell * cellMs < toMs; cell++) {
      const shareMs = Math.min(toMs, (cell + 1) * cellMs) - Math.max(fromMs, cell * cellMs);
      const at = ((cell % cells) + cells) % cells;
      open[at] = Math.min(1, (open[at] as number) + shareMs / cellMs);
    }
  }
  return open;
}

/** The walk back from the end of a pass for one phase, given as the cell of the round in which the pass ends. */
function makeWalk(pass: Pass, open: Float64Array, cellMs: number): (endCell: number) => number {
  const { durationMs, advertisingMs, reception } = pass;
  const count = Math.ceil(durationMs / cellMs);
  const pad = Math.ceil((advertisingMs + GREATEST_DELAY_MS) / cellMs) + 2;
  // C at the edges of the cells; before the end of the pass stand `pad` cells with M = 1.
  const sum = new Float64Array(pad + count + 1);
  for (let edge = 0; edge <= pad; edge++) sum[edge] = (edge - pad) * cellMs;
  const sumAt = (ms: number) => {
    const edge = Math.floor(ms / cellMs);
    const low = sum[pad + edge] as number;
    return low + (ms / cellMs - edge) * ((sum[pad + edge + 1] ?? low) - low);
  };
  // From the middle of a cell back over the interval, without and with the whole delay, in cells.
  const near = 0.5 - advertisingMs / cellMs;
  const far = near - GREATEST_DELAY_MS / cellMs;
  const [nearEdge, farEdge] = [Math.floor(near), Math.floor(far)];
  const [nearPart, farPart] = [near - nearEdge, far - farEdge];
  return (endCell) => {
    let at = endCell;
    let lastMissed = 0;
    for (let cell = 0; cell < count; cell++) {
      at = at === 0 ? open.length - 1 : at - 1;
      const n = pad + cell + nearEdge;
      const f = pad + cell + farEdge;
      const [n0, f0] = [sum[n] as number, sum[f] as number];
      const nearSum = n0 + nearPart * ((sum[n + 1] as number) - n0);
      const farSum = f0 + farPart * ((sum[f + 1] as number) - f0);
      const missed = ((nearSum - farSum) / GREATEST_DELAY_MS) * (1 - reception * (open[at] as number));
      sum[pad + cell + 1] = (sum[pad + cell] as number) + missed * cellMs;
      if (missed > NOTHING) lastMissed = cell;
      else if (cell - lastMissed > pad) return 0;
    }
    return meanOverFirst(sumAt, durationMs, advertisingMs);
  };
}

/** The first event falls anywhere in the interval that is running when the receiver comes into range. */
function meanOverFirst(sumAt: (ms: number) => number, durationMs: number, advertisingMs: number): number {
  const meanMs = advertisingMs + GREATEST_DELAY_MS / 2;
  const back = (delayMs: number) => sumAt(durationMs - advertisingMs - delayMs);
  const overDelay = (back(0) + 4 * back(GREATEST_DELAY_MS / 2) + back(GREATEST_DELAY_MS)) / 6;
  return (sumAt(durationMs) - overDelay) / meanMs;
}
