import type { GroupingOverride } from '../../shared/network/group-links.ts';
import type { TunnelNetwork } from '../../shared/network/network.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { compareSurveys } from '../../shared/pipeline/compare-surveys.ts';
import type { Rebuilt } from '../../shared/pipeline/rebuild-survey.ts';
import { carrySchemes } from '../../shared/scheme/carry-schemes.ts';
import { checkSurveyCommand, listOverrides, type SurveyCommand } from '../../shared/scheme/survey-log.ts';
import type { Comparison } from '../../shared/wire/comparison.ts';
import type { RebuildTask } from '../jobs/rebuild-task.ts';
import type { ExtractSource, Store, SurveyRecord } from '../store/store.ts';

export type SurveyEdit = { readonly baseRevision: number; readonly command: SurveyCommand };

/** How an edit of a survey's network is made and tried. */
export type Revisions = {
  /** What adopting the candidate would change; refused as `candidate-unknown` where there is none. */
  compare(survey: SurveyRecord): Promise<Result<Comparison>>;
  /**
   * Makes one edit: the network is built anew, the schemes are carried over, and all is kept at once. Refused as
   * `revision-stale` where the survey is not at `baseRevision`, and as checkSurveyCommand says.
   */
  revise(survey: SurveyRecord, edit: SurveyEdit): Promise<Result<SurveyRecord>>;
};

export function createRevisions(
  store: Store,
  runRebuild: (task: RebuildTask) => Promise<Result<Rebuilt>>,
): Revisions {
  const rebuild = rememberLast(async (survey, extractId, overrides) => {
    const packed = await store.findExtract(extractId);
    if (packed === undefined) return refused(refusal('survey-unknown', { id: survey.id }));
    return runRebuild({ packed, name: survey.name, before: survey.network, overrides });
  });

  return {
    async compare(survey) {
      const { candidate } = survey;
      if (candidate === undefined) return refused(refusal('candidate-unknown'));
      const rebuilt = await rebuild(survey, candidate.extractId, listOverrides(survey.log));
      if (!rebuilt.ok) return rebuilt;
      const schemes = await store.listSchemes(survey.id);
      return done({
        extractId: candidate.extractId,
        surveyRevision: survey.revision,
        before: nameSource(survey.source),
        after: nameSource(candidate.source),
        ...compareSurveys({ ...survey, schemes }, rebuilt.value),
      });
    },

    async revise(survey, { baseRevision, command }) {
      if (survey.log.some((entry) => entry.commandId === command.commandId)) return done(survey);
      const stale = refused(refusal('revision-stale', { revision: survey.revision }));
      if (survey.revision !== baseRevision) return stale;
      const checked = checkSurveyCommand(survey.log, command, survey.network);
      if (!checked.ok) return checked;
      const adopted = command.kind === 'adoptExtract' ? survey.candidate : undefined;
      if (command.kind === 'adoptExtract' && adopted?.extractId !== command.extractId) {
        return refused(refusal('candidate-unknown'));
      }
      const log = [...survey.log, command];
      const { extractId } = adopted ?? survey;
      const schemes = await store.listSchemes(survey.id);
      const rebuilt = await rebuild(survey, extractId, listOverrides(log));
      if (!rebuilt.ok) return rebuilt;
      const { pieces, ...base } = rebuilt.value;
      if (!hasEffect(command, base.network)) return refused(refusal('grouping-contradicted'));
      const carried = carrySchemes(survey.network, base.network, pieces, schemes, command.commandId);
      const revised = { ...survey, ...base, log, extractId, revision: survey.revision + 1 };
      const record = adopted === undefined ? revised : adopt(revised, adopted);
      const isKept = await store.swapSurvey(baseRevision, record, { schemes: carried.schemes });
      return isKept ? done(record) : stale;
    },
  };
}

function adopt(
  { candidate: _, ...survey }: SurveyRecord,
  { source, contextGzip }: NonNullable<SurveyRecord['candidate']>,
): SurveyRecord {
  // The area stays known where the newer extract came as a file.
  const { area } = survey.source;
  return { ...survey, contextGzip, source: area === undefined ? source : { area, ...source } };
}

/** Whether a join or a split did what it says: words by hand that stand against it may have kept it from that. */
function hasEffect(command: SurveyCommand, network: TunnelNetwork): boolean {
  if (command.kind !== 'join' && command.kind !== 'split') return true;
  const [one, other] = command.ways.map((way) =>
    network.complexes.findIndex(({ osmWays }) => osmWays.includes(way)),
  );
  return (one === other) === (command.kind === 'join');
}

function nameSource({ name, timestamp }: ExtractSource): Comparison['before'] {
  return timestamp === undefined ? { name } : { name, timestamp };
}

type Rebuild = (
  survey: SurveyRecord,
  extractId: string,
  overrides: readonly GroupingOverride[],
) => Promise<Result<Rebuilt>>;

/** Keeps the last network of each survey: what was compared is what will be adopted. */
function rememberLast(rebuild: Rebuild): Rebuild {
  const kept = new Map<string, { readonly key: string; readonly rebuilt: Promise<Result<Rebuilt>> }>();
  return (survey, extractId, overrides) => {
    const key = JSON.stringify([survey.createdAt, survey.log.length, extractId, overrides]);
    const last = kept.get(survey.id);
    if (last?.key === key) return last.rebuilt;
    const entry = { key, rebuilt: rebuild(survey, extractId, overrides) };
    kept.set(survey.id, entry);
    const forget = () => {
      if (kept.get(survey.id) === entry) kept.delete(survey.id);
    };
    entry.rebuilt.then((result) => {
      if (!result.ok) forget();
    }, forget);
    return entry.rebuilt;
  };
}
