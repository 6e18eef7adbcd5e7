/** One row or feature of an inventory before it was looked at. */
export type RawBeacon = {
  readonly line: number;
  readonly lon: number | undefined;
  readonly lat: number | undefined;
  readonly deviceId: string;
  readonly state: string;
  readonly installDate: string;
  /** Why there is nothing to look at. */
  readonly fault?: string;
};

/** The names of the columns and properties that are read. */
export const INVENTORY_NAMES = {
  deviceId: ['device_id', 'device'],
  state: ['state', 'status'],
  installDate: ['install_date', 'installed'],
} as const;
