import { useMemo, useState } from 'react';
import type { Drive } from '../../shared/drive/drive.ts';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import type { BeaconId } from '../../shared/placement/beacon.ts';
import type { Design } from '../../shared/placement/design.ts';
import { driveWords as say } from '../drive-words.ts';
import { formatNumber } from '../ui/format.ts';
import { DriveBranches } from './drive-branches.tsx';
import { DriveChart } from './drive-chart.tsx';
import { DriveDead } from './drive-dead.tsx';
import { DriveDecisions } from './drive-decisions.tsx';
import { DriveLegend } from './drive-legend.tsx';
import { DriveReadout } from './drive-readout.tsx';
import { findTelling, nameRoutes } from './drive-routes.ts';
import { listRouteBeacons, withoutBeacons } from './list-route-beacons.ts';
import { useDriving } from './use-driving.ts';

type DriveAnswerProps = { readonly network: ComplexNetwork; readonly design: Design };

const NONE: ReadonlySet<BeaconId> = new Set();

/** What many simulated drives of a tunnel come to. */
export default function DriveAnswer({ network, design }: DriveAnswerProps) {
  const [dead, setDead] = useState(NONE);
  const driven = useMemo(() => (dead.size === 0 ? design : withoutBeacons(design, dead)), [design, dead]);
  const { drive, isComputing, error } = useDriving(network, driven);
  if (error !== undefined) {
    return (
      <p className="notice error" role="alert">
        {say.failed(error)}
      </p>
    );
  }
  if (drive === undefined) return <p role="status">{say.computing}</p>;
  if (drive.routes.length === 0) return <p>{say.none}</p>;
  return (
    <div aria-busy={isComputing}>
      <p className="muted" role="status">
        {isComputing ? say.recomputing : say.intro}
      </p>
      {design.beacons.length === 0 && (
        <p className="notice">{describeBare(network.complex.outageS, design.rules.minimumOutageS)}</p>
      )}
      <Driven drive={drive} network={network} design={design} dead={dead} onDead={setDead} />
      {design.beacons.length > 0 && <DriveBranches branches={drive.branches} network={network} />}
      <p className="muted">
        {say.drives(formatNumber(drive.drives), drive.seed)}
        {drive.routesLeftOut > 0 && ` ${say.leftOut(drive.routesLeftOut)}`} {say.rules}
      </p>
    </div>
  );
}

function describeBare(outageS: number, minimumS: number): string {
  return outageS < minimumS ? say.bareShort(formatNumber(outageS, 1), formatNumber(minimumS, 1)) : say.bare;
}

type DrivenProps = DriveAnswerProps & {
  readonly drive: Drive;
  readonly dead: ReadonlySet<BeaconId>;
  readonly onDead: (dead: ReadonlySet<BeaconId>) => void;
};

/** One route of those that were driven. */
function Driven({ drive, network, design, dead, onDead }: DrivenProps) {
  const [routeId, setRouteId] = useState<string>();
  const [atShare, setAtShare] = useState(1);
  const names = useMemo(() => nameRoutes(drive, network), [drive, network]);
  const route = drive.routes.find((one) => one.routeId === routeId) ?? findTelling(drive);
  const beacons = useMemo(
    () =>
      listRouteBeacons(network, design, route.routeId).map((one) => ({ ...one, isDead: dead.has(one.id) })),
    [network, design, route.routeId, dead],
  );
  const decisions = drive.decisions.filter((one) => one.routeId === route.routeId);
  // A share, so that the place stays where it is while another route or design comes.
  const last = route.atM.length - 1;
  const place = Math.round(atShare * last);
  const goTo = (next: number) => setAtShare(last === 0 ? 0 : next / last);
  const isDesigned = beacons.length > 0;
  const endM = Math.max(route.lengthM, ...decisions.map(({ atM }) => atM));
  return (
    <>
      <label className="drive-route">
        {say.route}
        <select value={route.routeId} onChange={(event) => setRouteId(event.target.value)}>
          {drive.routes.map((one) => (
            <option key={one.routeId} value={one.routeId}>
              {names.get(one.routeId)}
            </option>
          ))}
        </select>
      </label>
      <DriveChart
        route={route}
        endM={endM}
        decisions={decisions}
        beacons={beacons}
        place={place}
        onPlace={goTo}
      />
      <DriveReadout
        route={route}
        plotShare={route.lengthM / endM}
        isDesigned={isDesigned}
        place={place}
        onPlace={goTo}
      />
      <DriveLegend
        isDesigned={isDesigned}
        hasDead={beacons.some(({ isDead }) => isDead)}
        hasDecisions={decisions.length > 0}
        hasOpenAir={endM > route.lengthM}
      />
      {isDesigned && (
        <DriveDead beacons={beacons} dead={dead} failureShare={design.rules.failureShare} onDead={onDead} />
      )}
      <DriveDecisions decisions={decisions} network={network} rules={design.rules} isDesigned={isDesigned} />
    </>
  );
}
