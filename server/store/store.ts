import type { Kysely } from 'kysely';
import type { ComplexId, TunnelNetwork } from '../../shared/network/network.ts';
import type { Finding } from '../../shared/outcome/finding.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import type { Evidence } from '../../shared/ranking/evidence.ts';
import type { LogEntry, Scheme } from '../../shared/scheme/scheme.ts';
import type { SurveyLogEntry } from '../../shared/scheme/survey-log.ts';
import type { Area } from '../../shared/wire/survey.ts';
import type { Run } from '../jobs/job.ts';
import type { JobStore } from '../jobs/job-store.ts';
import type { ChangeListener } from './changes.ts';
import type { Tables } from './tables.ts';

/** Where the data of an extract came from. */
export type ExtractSource = {
  readonly format: string;
  readonly name: string;
  readonly timestamp?: string;
  /** The program that wrote the extract: tells invented data from OpenStreetMap's. */
  readonly generator?: string;
  readonly bytes?: number;
  /** The area that was asked for, so that the same can be asked again. */
  readonly area?: Area;
};

/** Which survey, and how far it has come. */
export type SurveyStand = Pick<SurveyRecord, 'id' | 'createdAt' | 'revision'>;

/** A newer extract that waits to be adopted. */
export type Candidate = {
  readonly extractId: string;
  readonly source: ExtractSource;
  readonly contextGzip: Uint8Array;
};

/** One survey as it is kept: plain data only. */
export type SurveyRecord = {
  readonly id: string;
  readonly name: string;
  /** Of the program's own invented data. */
  readonly demo: boolean;
  readonly createdAt: string;
  /** Grows with every change to the survey or one of its schemes. */
  readonly revision: number;
  readonly rules: Rules;
  readonly source: ExtractSource;
  /** The extract that the network was made from. */
  readonly extractId: string;
  /** What people said about the survey itself: the network is another one after each entry. */
  readonly log: readonly SurveyLogEntry[];
  readonly candidate?: Candidate;
  /** Counts and inventories that people brought; it stays when the network becomes another one. */
  readonly evidence: Evidence;
  readonly ways: number;
  readonly tunnelWays: number;
  readonly network: TunnelNetwork;
  readonly findings: readonly Finding[];
  /** The map's background: GeoJSON text, gzip. */
  readonly contextGzip: Uint8Array;
};

/** The parts of a survey that a revision may have changed, large ones by their hash: enough to tell what changed. */
export type SurveyHead = Pick<SurveyRecord, 'name' | 'rules' | 'log' | 'extractId'> & {
  readonly evidence?: string;
  readonly candidate?: { readonly extractId: string };
};

/** One revision in a survey's history. */
export type Revision = {
  readonly revision: number;
  /** ISO 8601, UTC. */
  readonly at: string;
  /** The account that made it, where there are accounts. */
  readonly by?: string;
  /** What it was before and after; absent where only designs were changed. `before` is absent for the first one. */
  readonly head?: { readonly before?: SurveyHead; readonly after: SurveyHead };
  /** What was done to designs, by complex. */
  readonly edits: readonly { readonly complexId: ComplexId; readonly entries: readonly LogEntry[] }[];
};

/**
 * Where surveys, schemes and extracts are kept. Every call is done as a whole or not at all. An extract stays as
 * long as a survey names it, as its own or as its candidate. Every store passes tests/contracts/store.test.ts.
 */
export type Store = {
  /** The database itself, for what is kept beside surveys: accounts and links. */
  readonly db: Kysely<Tables>;
  /** All surveys, the newest first; what they hold has to be asked of each. */
  listSurveys(): Promise<readonly SurveyStand[]>;
  findSurvey(id: string): Promise<SurveyRecord | undefined>;
  /**
   * Keeps a new survey with its extract, and forgets the job that has made it. False, and nothing changed, where there
   * is a survey of that id already, or where the job is no longer `run`'s.
   */
  saveSurvey(record: SurveyRecord, extract: Uint8Array, run?: Run): Promise<boolean>;
  /**
   * Compare and swap: false, and nothing changed, where the survey is gone or its kept revision is not
   * `baseRevision`. `extra.extract` is what the record's candidate names; `extra.schemes` take the place of all
   * schemes of the survey.
   */
  swapSurvey(
    baseRevision: number,
    record: SurveyRecord,
    extra?: { readonly extract?: Uint8Array; readonly schemes?: readonly Scheme[] },
  ): Promise<boolean>;
  /** Removes the survey and its schemes; false where there was none. */
  removeSurvey(id: string): Promise<boolean>;
  /**
   * A text that was kept about a survey at that revision, and what is kept about it in place of that: only to spare
   * work; `edition` is the program's that made it.
   */
  findView(stand: SurveyStand, edition: string): Promise<string | undefined>;
  keepView(stand: SurveyStand, edition: string, text: string): Promise<void>;
  /** A packed extract, by the id of what it holds. */
  findExtract(id: string): Promise<Uint8Array | undefined>;
  findScheme(surveyId: string, complexId: ComplexId): Promise<Scheme | undefined>;
  listSchemes(surveyId: string): Promise<readonly Scheme[]>;
  /**
   * Compare and swap: false, and nothing changed, where the survey is gone or was itself changed since its revision
   * `base.survey`, or where the scheme's revision is not `base.scheme`. Other schemes may have been changed: they are
   * none of this one's business. The survey's revision grows by one.
   */
  saveScheme(
    surveyId: string,
    base: { readonly survey: number; readonly scheme: number },
    scheme: Scheme,
  ): Promise<boolean>;
  /** What became of a survey, the newest revision first: at most `limit`, those below `before`. */
  listRevisions(
    surveyId: string,
    page: { readonly before?: number; readonly limit: number },
  ): Promise<readonly Revision[]>;
  /** A survey as it was at one of its revisions, without a candidate; undefined where there is no such revision. */
  findAt(
    surveyId: string,
    revision: number,
  ): Promise<{ readonly record: SurveyRecord; readonly schemes: readonly Scheme[] } | undefined>;
  /** What is to be done in the background, by whichever server. */
  readonly jobs: JobStore;
  /** Calls `listener` after everything was replaced by a backup: what was derived from surveys before holds no longer. */
  onReplaced(listener: () => void): void;
  /** Calls `listener` after every change, by whichever server; returns how to stop. */
  onChange(listener: ChangeListener): () => void;
  /** Ends the connection; what was answered before is kept. */
  close(): Promise<void>;
};
