import type { ComplexId, TunnelNetwork } from '../../shared/network/network.ts';
import type { Finding } from '../../shared/outcome/finding.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import type { Scheme } from '../../shared/scheme/scheme.ts';

/** One survey as it is kept: plain data only. */
export type SurveyRecord = {
  readonly id: string;
  readonly name: string;
  /** Read again from the program's own data at each start, so that it survives a restart. */
  readonly demo: boolean;
  readonly createdAt: string;
  readonly revision: number;
  readonly rules: Rules;
  readonly source: {
    readonly format: string;
    readonly name: string;
    readonly timestamp?: string;
    /** The program that wrote the extract: tells invented data from OpenStreetMap's. */
    readonly generator?: string;
    readonly bytes?: number;
  };
  readonly ways: number;
  readonly tunnelWays: number;
  readonly network: TunnelNetwork;
  readonly findings: readonly Finding[];
  /** The map's background: GeoJSON text, gzip. */
  readonly contextGzip: Uint8Array;
};

/** Where surveys and schemes are kept. Every store passes tests/contracts/store.test.ts. */
export type Store = {
  listSurveys(): Promise<readonly SurveyRecord[]>;
  findSurvey(id: string): Promise<SurveyRecord | undefined>;
  /** Keeps a survey, in place of an earlier one of the same id. */
  saveSurvey(record: SurveyRecord): Promise<void>;
  /** Compare and swap: false, and nothing changed, where it is gone or its kept revision is not `baseRevision`. */
  swapSurvey(baseRevision: number, record: SurveyRecord): Promise<boolean>;
  /** Removes the survey and its schemes; false where there was none. */
  removeSurvey(id: string): Promise<boolean>;
  findScheme(surveyId: string, complexId: ComplexId): Promise<Scheme | undefined>;
  listSchemes(surveyId: string): Promise<readonly Scheme[]>;
  /** Compare and swap: false, and nothing changed, where the survey is gone or the kept revision is not `baseRevision`. */
  saveScheme(surveyId: string, baseRevision: number, scheme: Scheme): Promise<boolean>;
};
