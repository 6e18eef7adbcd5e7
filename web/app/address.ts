import { writeTableView } from '../survey/table-address.ts';
import { FIRST_VIEW, type TableView } from '../survey/table-view.ts';
import { type PlanLimits, readPlan, writePlan } from './plan-address.ts';

/** Where the map looks. */
export type MapPlace = { readonly zoom: number; readonly lat: number; readonly lon: number };

/** What can stand in the panel instead of the table. */
export type Panel = 'report' | 'print' | 'changes' | 'ranking' | 'programme' | 'evidence' | 'history';
const PANELS: readonly string[] = [
  'report',
  'print',
  'changes',
  'ranking',
  'programme',
  'evidence',
  'history',
] satisfies Panel[];

/** What the page's address says: which survey, which tunnel, which panel, where the map looks. */
export type Address = {
  readonly survey?: string;
  readonly tunnel?: string;
  readonly panel?: Panel;
  /** The tunnels of the report to print; all where they are left out. */
  readonly tunnels?: readonly string[];
  /** Only with the programme's panel. */
  readonly plan?: PlanLimits;
  readonly map?: MapPlace;
};

/** Reads the search part of an address; what cannot be understood is left out. */
export function fromSearch(search: string): Address {
  const params = new URLSearchParams(search);
  const survey = params.get('survey') || undefined;
  const tunnel = params.get('tunnel') || undefined;
  const panel = params.get('panel') ?? '';
  const tunnels = params.get('tunnels')?.split(',').filter(Boolean) ?? [];
  const plan = panel === 'programme' ? readPlan(params.get('plan')) : undefined;
  const map = readPlace(params.get('map'));
  return {
    ...(survey === undefined ? {} : { survey }),
    ...(tunnel === undefined || survey === undefined ? {} : { tunnel }),
    ...(PANELS.includes(panel) ? { panel: panel as Panel } : {}),
    ...(tunnels.length === 0 || panel !== 'print' ? {} : { tunnels }),
    ...(plan === undefined ? {} : { plan }),
    ...(map === undefined ? {} : { map }),
  };
}

/** Writes the search part of an address, with what the table shows; empty where there is nothing to say. */
export function toSearch(address: Address, table: TableView = FIRST_VIEW): string {
  const params = new URLSearchParams();
  if (address.survey !== undefined) params.set('survey', address.survey);
  if (address.tunnel !== undefined) params.set('tunnel', address.tunnel);
  if (address.panel !== undefined) params.set('panel', address.panel);
  if (address.tunnels !== undefined) params.set('tunnels', address.tunnels.join(','));
  if (address.plan !== undefined) params.set('plan', writePlan(address.plan));
  if (address.map !== undefined) {
    const { zoom, lat, lon } = address.map;
    params.set('map', `${zoom.toFixed(2)}/${lat.toFixed(5)}/${lon.toFixed(5)}`);
  }
  writeTableView(params, table);
  // Slashes and commas are allowed in a query and keep the address readable.
  const text = params.toString().replaceAll('%2F', '/').replaceAll('%2C', ',');
  return text === '' ? '' : `?${text}`;
}

function readPlace(text: string | null): MapPlace | undefined {
  const parts = (text ?? '').split('/');
  if (parts.length !== 3 || parts.some((part) => part.trim() === '')) return undefined;
  const [zoom, lat, lon] = parts.map(Number) as [number, number, number];
  const isSound = zoom >= 0 && zoom <= 24 && Math.abs(lat) <= 90 && Math.abs(lon) <= 180;
  return isSound ? { zoom, lat, lon } : undefined;
}
