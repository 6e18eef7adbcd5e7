import { parseSpeedZone } from './parse-speed-zone.ts';

const KMH = 1 / 3.6;
/** The international mile per hour: 1609.344 m in 3600 s. */
const MPH = 1609.344 / 3600;
const KNOT = 1852 / 3600;

/** Walking pace and "no limit", as km/h (project defaults, no source). */
const WALK_KMH = 7;
const UNLIMITED_KMH = 130;

/** A speed in metres per second, and whether the state's own figure behind a code (`XX:rural`) is not known here. */
export type Speed = { readonly speedMps: number; readonly assumed: boolean };

/** Reads one value of `maxspeed` (`50`, `30 mph`, `walk`, `none`, `DE:urban`), or undefined. */
export function parseSpeed(text: string): Speed | undefined {
  const number = /^(\d{1,3}(?:\.\d+)?)\s*(km\/h|kmh|kph|mph|knots)?$/i.exec(text);
  if (number === null) {
    if (text === 'walk') return { speedMps: WALK_KMH * KMH, assumed: false };
    if (text === 'none') return { speedMps: UNLIMITED_KMH * KMH, assumed: false };
    return parseSpeedZone(text);
  }
  const unit = { mph: MPH, knots: KNOT }[number[2]?.toLowerCase() ?? ''] ?? KMH;
  const speedMps = Number(number[1]) * unit;
  return speedMps > 0 && speedMps <= 100 ? { speedMps, assumed: false } : undefined;
}
