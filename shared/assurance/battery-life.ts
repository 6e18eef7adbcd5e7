/** What a beacon has in its cell and what it takes out of it. */
export type BatteryUse = {
  readonly capacityMah: number;
  /** What can be used before the voltage is too low, 0 to 1. */
  readonly usableShare: number;
  /** Lost each year without any use, 0 to 1. */
  readonly selfDischargePerYear: number;
  readonly chargePerEventUc: number;
  readonly intervalS: number;
  /** Current between the advertising events, microamperes. */
  readonly idleUa: number;
};

const HOURS_PER_YEAR = 8766;

/**
 * Expected years of a battery: t = u·C / (I + s·C), self-discharge taken as linear. It does not know the shelf life
 * of a cell, which ends long lives sooner. Infinity where nothing is used. Model of this project.
 */
export function batteryLifeYears(use: BatteryUse): number {
  const mahPerYear = (meanCurrentUa(use) / 1000) * HOURS_PER_YEAR;
  return (use.usableShare * use.capacityMah) / (mahPerYear + use.selfDischargePerYear * use.capacityMah);
}

/** The mean current in microamperes: one microcoulomb a second is one of them. */
export function meanCurrentUa({ chargePerEventUc, intervalS, idleUa }: BatteryUse): number {
  return chargePerEventUc / intervalS + idleUa;
}
