import { OUT_ICON, yearIcon } from './icons/programme-icons.ts';
import type { MapViewProps } from './map-types.ts';
import { mapWords } from './map-words.ts';

/** A word and the name of its symbol. */
export type LegendEntry = { readonly word: string; readonly symbol: string };

/** The legend in groups; what is switched off has no entry. What a newer extract would change, or a plan, comes first. */
export function listLegend(
  show: MapViewProps['show'],
  hasChanges = false,
  programme?: MapViewProps['programme'],
): [string, LegendEntry[]][] {
  const { legend } = mapWords;
  const entry = (symbol: string, word: string): LegendEntry => ({ word, symbol });
  const groups: [string, LegendEntry[]][] = [
    [
      legend.tunnels,
      [
        entry('bore-planned', legend.planned),
        entry('bore-partly', legend.partly),
        entry('bore-equipped', legend.equipped),
        entry('bore-undesigned', legend.undesigned),
        ...(show.galleries ? [entry('bore-gallery', legend.gallery)] : []),
        ...(show.restricted ? [entry('bore-restricted', legend.restricted)] : []),
        entry('bore-selected', legend.selected),
        entry('badge-of-two', legend.badge),
      ],
    ],
    [
      legend.decisions,
      [
        entry('exit-arrow', legend.exit),
        entry('through-arrow', legend.through),
        entry('decision-underground', legend.decisionUnderground),
        entry('decision-after-portal', legend.decisionAfter),
      ],
    ],
    [
      legend.portals,
      [
        entry('portal-in', legend.portalIn),
        entry('portal-out', legend.portalOut),
        entry('portal-both', legend.portalBoth),
        entry('portal-dead-end', legend.deadEnd),
        entry('portal-edge', legend.edge),
      ],
    ],
    [
      legend.beacons,
      [
        entry('beacon-spacing', legend.spacing),
        entry('beacon-portal', legend.portal),
        entry('beacon-decision', legend.decision),
        entry('beacon-branch', legend.branch),
        entry('beacon-manual', legend.manual),
        ...(show.coverage ? [entry('coverage', legend.coverage)] : []),
        entry('keep-out', legend.keepOut),
      ],
    ],
    [
      legend.emergency,
      [
        entry('emergency-exit', legend.emergencyExit),
        entry('emergency-phone', legend.phone),
        entry('lay-by', legend.layBy),
      ],
    ],
  ];
  if (show.findings) {
    groups.push([
      legend.findings,
      [
        entry('finding-info', legend.findingInfo),
        entry('finding-warning', legend.findingWarning),
        entry('finding-error', legend.findingError),
      ],
    ]);
  }
  if (hasChanges) {
    groups.unshift([
      legend.changes,
      [
        entry('change-before', legend.lineBefore),
        entry('change-after', legend.lineAfter),
        entry('change-shift', legend.beaconShift),
        entry('change-gone', legend.beaconGone),
      ],
    ]);
  }
  if (programme !== undefined) {
    const { years, leftOut } = programme;
    groups.unshift([
      legend.programme,
      [
        ...years.flatMap(({ year, ids }) =>
          ids.length === 0 ? [] : entry(yearIcon(year), legend.year(year, ids.length)),
        ),
        ...(leftOut.length === 0 ? [] : [entry(OUT_ICON, legend.leftOut(leftOut.length))]),
      ],
    ]);
  }
  return groups;
}
