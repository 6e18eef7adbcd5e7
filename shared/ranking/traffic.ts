import type { RowNote } from './row-note.ts';

/** Whose count it is: the most exact of a row's keys, or the default of the road class. */
export type TrafficSource = 'way' | 'ref' | 'name' | 'class';

/** One row of a file of counts. A row may have several keys; the most exact one decides (way, then ref, then name). */
export type TrafficRow = {
  readonly line: number;
  readonly way?: number;
  readonly ref?: string;
  readonly name?: string;
  readonly vehiclesPerDay: number;
  /** Share of heavy vehicles, 0 to 1. */
  readonly heavyShare?: number;
};

/** A file of counts as it was read, kept so that it can be matched anew. */
export type TrafficFile = {
  readonly name: string;
  readonly rows: readonly TrafficRow[];
  readonly notes: readonly RowNote[];
};

/** The traffic of one link: on a two-way bore both directions together, on a one-way bore its own. */
export type LinkTraffic = {
  readonly vehiclesPerDay: number;
  readonly heavyShare?: number;
  readonly source: TrafficSource;
  /** The row that it is from; absent for the default of the road class. */
  readonly line?: number;
};

/** The traffic of every link of a network, by the link's id, and how many rows of the file met one. */
export type Traffic = {
  readonly byLink: Readonly<Record<string, LinkTraffic>>;
  readonly rowCount: number;
  readonly matchedCount: number;
};
