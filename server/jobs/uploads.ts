/** Files that were sent and wait for whoever reads them; their names are made here and never come from people. */
export type Uploads = {
  /** Takes over the file at `path` and answers its id. */
  keep(path: string): Promise<string>;
  /** Lets `work` read a file, by a path that holds as long as `work` runs. */
  read<T>(id: string, work: (path: string) => Promise<T>): Promise<T>;
  /** Nothing happens where there is none. */
  remove(id: string): Promise<void>;
  /** Removes what was left over: every file but those. */
  removeOthers(named: readonly string[]): Promise<void>;
};
