import { useState } from 'react';
import type { Drive, RouteDrive } from '../../shared/drive/drive.ts';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import type { Design } from '../../shared/placement/design.ts';
import { driveWords as say } from '../drive-words.ts';
import { formatNumber } from '../ui/format.ts';
import { DriveBranches } from './drive-branches.tsx';
import { DriveChart, DriveLegend } from './drive-chart.tsx';
import { DriveDecisions } from './drive-decisions.tsx';
import { DriveReadout } from './drive-readout.tsx';
import { nameOfLink } from './list-beacon-rows.ts';
import { useDriving } from './use-driving.ts';

type DriveAnswerProps = { readonly network: ComplexNetwork; readonly design: Design };

/** What many simulated drives of a tunnel come to. */
export default function DriveAnswer({ network, design }: DriveAnswerProps) {
  const { drive, isComputing, error } = useDriving(network, design);
  if (error !== undefined) {
    return (
      <p className="notice error" role="alert">
        {say.failed(error)}
      </p>
    );
  }
  if (drive === undefined) return <p role="status">{say.computing}</p>;
  return (
    <>
      <p className="muted" role="status">
        {isComputing ? say.recomputing : say.intro}
      </p>
      {drive.routes.length === 0 ? (
        <p>{say.none}</p>
      ) : (
        <Driven drive={drive} network={network} design={design} />
      )}
      <DriveBranches branches={drive.branches} network={network} />
      <p className="muted">
        {say.drives(formatNumber(drive.drives), drive.seed)}
        {drive.routesLeftOut > 0 && ` ${say.leftOut(drive.routesLeftOut)}`}
      </p>
    </>
  );
}

type DrivenProps = DriveAnswerProps & { readonly drive: Drive };

/** One route of those that were driven. */
function Driven({ drive, network, design }: DrivenProps) {
  const [routeId, setRouteId] = useState<string>();
  const [isEnlarged, setEnlarged] = useState(false);
  const [atShare, setAtShare] = useState(1);
  const route = drive.routes.find((one) => one.routeId === routeId) ?? findTelling(drive);
  if (route === undefined) return null;
  const decisions = drive.decisions.filter((one) => one.routeId === route.routeId);
  // A share, so that the place stays where it is while another route or design comes.
  const last = route.atM.length - 1;
  const place = Math.round(atShare * last);
  const goTo = (next: number) => setAtShare(last === 0 ? 0 : next / last);
  return (
    <>
      <label className="drive-route">
        {say.route}
        <select value={route.routeId} onChange={(event) => setRouteId(event.target.value)}>
          {drive.routes.map((one) => (
            <option key={one.routeId} value={one.routeId}>
              {describeRoute(one, drive, network)}
            </option>
          ))}
        </select>
      </label>
      <DriveChart route={route} decisions={decisions} isEnlarged={isEnlarged} place={place} onPlace={goTo} />
      <DriveLegend />
      <label>
        <input type="checkbox" checked={isEnlarged} onChange={(event) => setEnlarged(event.target.checked)} />{' '}
        {say.enlarge}
      </label>
      <DriveReadout route={route} place={place} onPlace={goTo} />
      <DriveDecisions decisions={decisions} rules={design.rules} />
    </>
  );
}

/** The longest route with a decision; else the longest. */
function findTelling({ routes, decisions }: Drive): RouteDrive | undefined {
  const decided = new Set(decisions.map(({ routeId }) => routeId));
  const telling = routes.filter(({ routeId }) => decided.has(routeId));
  return [...(telling.length > 0 ? telling : routes)].sort((a, b) => b.lengthM - a.lengthM)[0];
}

/** `Kell Parkway (A31) → Southgate Ramp: 1,712 m, 2 decisions`. */
function describeRoute(
  { routeId, lengthM }: RouteDrive,
  { decisions }: Drive,
  network: ComplexNetwork,
): string {
  const steps = network.complex.routes.find(({ id }) => id === routeId)?.steps ?? [];
  const names = [steps[0], steps.at(-1)].map((step) => {
    const link = network.links.find(({ id }) => id === step?.linkId);
    return link === undefined ? '' : nameOfLink(link);
  });
  const count = decisions.filter((one) => one.routeId === routeId).length;
  return say.routeOption([...new Set(names)].join(' → '), formatNumber(lengthM), count);
}
