import type { TunnelNetwork } from '../network/network.ts';
import type { Finding, Staged } from '../outcome/finding.ts';
import type { Existing, ExistingFile } from './existing.ts';
import { matchExisting } from './match-existing.ts';
import { matchTraffic } from './match-traffic.ts';
import type { Traffic, TrafficFile } from './traffic.ts';

/** What people brought to a survey besides the map: kept as it was read, and matched anew when the network changes. */
export type Evidence = { readonly traffic?: TrafficFile; readonly existing?: ExistingFile };

/** The evidence in its place: every link has traffic, if only the default of its class. */
export type MatchedEvidence = { readonly traffic: Traffic; readonly existing: Existing };

/** Matches traffic counts and existing beacons with a network; the findings list every row that could not be used. */
export function matchEvidence(network: TunnelNetwork, evidence: Evidence): Staged<MatchedEvidence> {
  const traffic = matchTraffic(network, evidence.traffic);
  const findings: Finding[] = [...traffic.findings];
  if (evidence.existing === undefined) {
    return { value: { traffic: traffic.value, existing: NONE }, findings };
  }
  const existing = matchExisting(network, evidence.existing);
  return {
    value: { traffic: traffic.value, existing: existing.value },
    findings: [...findings, ...existing.findings],
  };
}

const NONE: Existing = { byComplex: {}, itemCount: 0, matchedCount: 0 };
