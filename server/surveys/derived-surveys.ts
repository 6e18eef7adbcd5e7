import { gzipSync } from 'node:zlib';
import type { DecisionDrive } from '../../shared/drive/drive.ts';
import { findOrigin } from '../../shared/export/origin.ts';
import type { ComplexId, ComplexNetwork } from '../../shared/network/network.ts';
import type { Finding, Staged } from '../../shared/outcome/finding.ts';
import { listComplexNetworks } from '../../shared/pipeline/build-survey.ts';
import { designComplex } from '../../shared/pipeline/design-complex.ts';
import { type Driven, withRanking } from '../../shared/pipeline/rank-survey.ts';
import {
  type Designed,
  type LayerMembers,
  toCounts,
  toSurveyLayer,
} from '../../shared/pipeline/to-survey-layers.ts';
import type { Design } from '../../shared/placement/design.ts';
import { type Evidence, type MatchedEvidence, matchEvidence } from '../../shared/ranking/evidence.ts';
import { makeScheme, type Scheme } from '../../shared/scheme/scheme.ts';
import type { LayerName } from '../../shared/wire/layers.ts';
import type { Counts } from '../../shared/wire/survey.ts';
import { LatestMap } from '../latest-map.ts';
import type { Store, SurveyRecord } from '../store/store.ts';
import { takeTurns } from '../take-turns.ts';
import type { DriveCase } from './drive-cases.ts';
import type { DriveMany } from './drive-many.ts';
import { createDrives } from './survey-drives.ts';

/** What follows from a stored survey and its schemes. Recomputed where they changed, kept otherwise. */
export type DerivedSurveys = {
  findNetwork(survey: SurveyRecord, id: string): ComplexNetwork | undefined;
  counts(survey: SurveyRecord): Promise<Counts>;
  /** One layer as GeoJSON text, gzip. */
  layerGzip(survey: SurveyRecord, layer: LayerName): Promise<Uint8Array>;
  findings(survey: SurveyRecord): Promise<readonly Finding[]>;
  /** Every tunnel with its design, and the survey that they are of: a later one where it changed meanwhile. */
  designed(survey: SurveyRecord): Promise<{ survey: SurveyRecord; designed: readonly Designed[] }>;
  /** The survey's evidence in its place on the network; the findings list each row that was of no use, or not as it stands. */
  matched(survey: SurveyRecord): Staged<MatchedEvidence>;
  /** Every tunnel driven, as the design stands and then once in each of the other cases. */
  driven(survey: SurveyRecord, cases?: readonly DriveCase[]): Promise<DrivenSurvey>;
  /** Every tunnel laid out, for a hand-over; with `isRanked` what is known from drives stands in it. */
  laidOut(survey: SurveyRecord, isRanked: boolean): Promise<LaidOut>;
  forget(surveyId: string): void;
};

/** `survey` is what was driven: a later one where the network changed meanwhile. */
export type DrivenSurvey = {
  readonly survey: SurveyRecord;
  readonly driven: readonly (Designed & Driven)[];
  readonly others: readonly ReadonlyMap<ComplexId, readonly DecisionDrive[]>[];
};

/** `survey` is what was laid out: a later one where the network changed meanwhile. */
export type LaidOut = {
  readonly survey: SurveyRecord;
  readonly designed: readonly Designed[];
  readonly findings: readonly Finding[];
  readonly members: LayerMembers;
};

type Kept = {
  /** Entries of the survey's log when its network was built: the network is another one after each. */
  readonly edition: number;
  readonly networks: readonly ComplexNetwork[];
  readonly byId: ReadonlyMap<ComplexId, ComplexNetwork>;
  /** One design per complex, good for one revision of its scheme and one set of survey rules. */
  readonly designs: Map<ComplexId, { readonly key: string; readonly made: Made }>;
  /** What the evidence comes to on this network. */
  matched?: { readonly evidence: Evidence; readonly staged: Staged<MatchedEvidence> };
  revision: number;
  readonly layers: Map<LayerName, Uint8Array>;
};
type Made = { readonly design: Design; readonly findings: readonly Finding[] };
type Whole = Omit<LaidOut, 'members'>;

/** So many surveys are held laid out: a country's layout takes some hundred megabytes. */
const IN_MEMORY = 16;

/** @param driveMany has the tunnels of large surveys driven elsewhere. */
export function createDerivedSurveys(store: Store, driveMany?: DriveMany): DerivedSurveys {
  const kept = new LatestMap<string, Kept>(IN_MEMORY);
  const drives = createDrives(driveMany);
  store.onReplaced(() => kept.clear());

  const keptOf = (survey: SurveyRecord): Kept => {
    const found = kept.get(survey.id);
    const edition = survey.log.length;
    if (found?.edition === edition) return found;
    const networks = listComplexNetworks(survey.network);
    const byId = new Map(networks.map((network) => [network.complex.id, network]));
    const { revision } = survey;
    const made: Kept = { edition, networks, byId, designs: new Map(), revision, layers: new Map() };
    // Whoever asks late for an older network does not push out the newer one.
    if (found === undefined || found.edition < edition) kept.set(survey.id, made);
    return made;
  };

  const matchedOf = (survey: SurveyRecord): Staged<MatchedEvidence> => {
    const memory = keptOf(survey);
    const { evidence, network } = survey;
    if (memory.matched?.evidence !== evidence) {
      memory.matched = { evidence, staged: matchEvidence(network, evidence) };
    }
    return memory.matched.staged;
  };

  const whole = async (survey: SurveyRecord): Promise<Whole> => {
    const stored = await store.listSchemes(survey.id);
    // Schemes belong to the network of their time: where that changed meanwhile, what is now is told.
    const now = await store.findSurvey(survey.id);
    if (now !== undefined && now.log.length !== survey.log.length) return whole(now);
    const { networks, designs } = keptOf(survey);
    const schemes = new Map(stored.map((scheme) => [scheme.complexId, scheme]));
    const matched = matchedOf(survey);
    const { byComplex } = matched.value.existing;
    const findings: Finding[] = [...survey.findings, ...matched.findings];
    const designed: Designed[] = [];
    const turn = takeTurns();
    for (const network of networks) {
      const made = designOne(network, survey, schemes.get(network.complex.id), designs);
      findings.push(...made.findings);
      designed.push({ network, design: made.design, existing: byComplex[network.complex.id] ?? [] });
      await turn();
    }
    return { survey, designed, findings };
  };

  /** The whole with the ranking in it, which takes drives of every tunnel. */
  const ranked = async (asked: SurveyRecord): Promise<Whole> => {
    const { survey, designed, findings } = await whole(asked);
    const driven = await drives.drive(survey.id, designed);
    const { traffic } = matchedOf(survey).value;
    return { survey, designed: withRanking(driven, traffic, survey.rules), findings };
  };

  return {
    findNetwork: (survey, id) => keptOf(survey).byId.get(id as ComplexId),
    async counts(survey) {
      const { designed, findings } = await whole(survey);
      return toCounts(survey, designed, findings);
    },
    async layerGzip(survey, layer) {
      if (layer === 'context') return survey.contextGzip;
      const memory = keptOf(survey);
      if (memory.revision < survey.revision) {
        memory.revision = survey.revision;
        memory.layers.clear();
      }
      const isCurrent = () => memory.revision === survey.revision;
      const ready = isCurrent() ? memory.layers.get(layer) : undefined;
      if (ready !== undefined) return ready;
      const { designed, findings } = await (RANKED.has(layer) ? ranked : whole)(survey);
      const text = JSON.stringify(toSurveyLayer(layer, designed, findings, membersOf(survey)));
      const bytes = gzipSync(text, { level: 4 });
      // A newer revision may have come while this one was laid out.
      if (isCurrent()) memory.layers.set(layer, bytes);
      return bytes;
    },
    findings: async (survey) => (await whole(survey)).findings,
    designed: whole,
    matched: matchedOf,
    async driven(asked, cases = []) {
      const { survey, designed } = await whole(asked);
      const driven = await drives.drive(survey.id, designed);
      const others: DrivenSurvey['others'][number][] = [];
      for (const one of cases) {
        const other = await drives.drive(survey.id, designed, one);
        others.push(new Map(other.map(({ network, failures }) => [network.complex.id, failures])));
      }
      return { survey, driven, others };
    },
    async laidOut(asked, isRanked) {
      const made = await (isRanked ? ranked : whole)(asked);
      return { ...made, members: membersOf(made.survey) };
    },
    forget: (surveyId) => void kept.delete(surveyId),
  };
}

/** What is only known from drives of every tunnel stands in these. */
export const RANKED: ReadonlySet<LayerName> = new Set(['complexes', 'decisions']);

function membersOf(survey: SurveyRecord) {
  return { rules: survey.rules, origin: findOrigin(survey.source) };
}

function designOne(
  network: ComplexNetwork,
  survey: SurveyRecord,
  stored: Scheme | undefined,
  designs: Kept['designs'],
): Made {
  const { id } = network.complex;
  const scheme = stored ?? makeScheme(id);
  const key = `${scheme.revision} ${JSON.stringify(survey.rules)}`;
  const before = designs.get(id);
  if (before?.key === key) return before.made;
  const { value: design, findings } = designComplex(network, survey.rules, scheme);
  const made = { design, findings };
  designs.set(id, { key, made });
  return made;
}
