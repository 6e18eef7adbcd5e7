import type { GroupingOverride } from '../../shared/network/group-links.ts';
import type { TunnelNetwork } from '../../shared/network/network.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { compareSurveys, listNotes } from '../../shared/pipeline/compare-surveys.ts';
import type { Rebuilt } from '../../shared/pipeline/rebuild-survey.ts';
import { carrySchemes } from '../../shared/scheme/carry-schemes.ts';
import {
  checkSurveyCommand,
  listOverrides,
  type SurveyCommand,
  type SurveyLogEntry,
} from '../../shared/scheme/survey-log.ts';
import type { Comparison } from '../../shared/wire/comparison.ts';
import type { RebuildTask } from '../jobs/rebuild-task.ts';
import type { Store, SurveyRecord } from '../store/store.ts';
import { getSurvey } from './get-survey.ts';
import { nameSource } from './name-source.ts';
import { rememberLast } from './remember-last.ts';

export type SurveyEdit = { readonly baseRevision: number; readonly command: SurveyCommand };

/** The survey after an edit, and what the edit changed that was not asked for. */
export type Revised = { readonly record: SurveyRecord; readonly notes: Comparison['notes'] };

/** How an edit of a survey's network is made and tried. */
export type Revisions = {
  /** What adopting the candidate would change; refused as `candidate-unknown` where there is none. */
  compare(id: string): Promise<Result<Comparison>>;
  /**
   * Makes one edit: the network is built anew, the schemes are carried over, and all is kept at once. Refused as
   * `revision-stale` where the survey is not at `baseRevision`, and as checkSurveyCommand says.
   */
  revise(id: string, edit: SurveyEdit): Promise<Result<Revised>>;
  forget(id: string): void;
};

/** @param runRebuild builds a network anew; asked for one at a time. */
export function createRevisions(
  store: Store,
  runRebuild: (task: RebuildTask) => Promise<Result<Rebuilt>>,
): Revisions {
  let turn: Promise<unknown> = Promise.resolve();
  const rebuilds = rememberLast(
    async (survey: SurveyRecord, extractId: string, overrides: readonly GroupingOverride[]) => {
      const packed = await store.findExtract(extractId);
      // Another candidate has come, or the survey is gone.
      if (packed === undefined) return refused(refusal('candidate-unknown'));
      const task = { packed, name: survey.name, before: survey.network, overrides };
      const rebuilt = turn.then(() => runRebuild(task));
      turn = rebuilt.catch(() => {});
      return rebuilt;
    },
    ({ createdAt, log }, extractId, overrides) =>
      JSON.stringify([createdAt, log.length, extractId, overrides]),
  );
  const comparisons = rememberLast(
    async (survey: SurveyRecord): Promise<Result<Comparison>> => {
      const { candidate } = survey;
      if (candidate === undefined) return refused(refusal('candidate-unknown'));
      const schemes = await store.listSchemes(survey.id);
      const rebuilt = await rebuilds.ask(survey, candidate.extractId, listOverrides(survey.log));
      if (!rebuilt.ok) return rebuilt;
      return done({
        extractId: candidate.extractId,
        surveyRevision: survey.revision,
        before: nameSource(survey.source),
        after: nameSource(candidate.source),
        ...compareSurveys({ ...survey, schemes }, rebuilt.value),
      });
    },
    ({ createdAt, revision }) => `${createdAt} ${revision}`,
  );

  return {
    async compare(id) {
      for (;;) {
        const survey = await getSurvey(store, id);
        if (!survey.ok) return survey;
        const compared = await comparisons.ask(survey.value);
        // Designs that were read while somebody changed them belong to another revision.
        const now = await store.findSurvey(id);
        if (now === undefined || now.revision === survey.value.revision) return compared;
      }
    },

    async revise(id, { baseRevision, command }) {
      const found = await getSurvey(store, id);
      if (!found.ok) return found;
      const survey = found.value;
      const isDone = (record: SurveyRecord) =>
        record.log.some((entry) => entry.commandId === command.commandId);
      if (isDone(survey)) return done({ record: survey, notes: [] });
      const stale = ({ revision }: SurveyRecord) => refused(refusal('revision-stale', { revision }));
      if (survey.revision !== baseRevision) return stale(survey);
      const checked = checkSurveyCommand(survey.log, command, survey.network);
      if (!checked.ok) return checked;
      const revised = await makeRevision(survey, command);
      if (!revised.ok) return revised;
      const { record, schemes, notes } = revised.value;
      if (await store.swapSurvey(baseRevision, record, { schemes })) {
        rebuilds.forget(id);
        return done({ record, notes });
      }
      // The same edit may have been sent twice, and the other one was quicker.
      const now = await getSurvey(store, id);
      if (!now.ok) return now;
      return isDone(now.value) ? done({ record: now.value, notes: [] }) : stale(now.value);
    },

    forget(id) {
      rebuilds.forget(id);
      comparisons.forget(id);
    },
  };

  async function makeRevision(survey: SurveyRecord, command: SurveyCommand) {
    const adopted = command.kind === 'adoptExtract' ? survey.candidate : undefined;
    if (command.kind === 'adoptExtract' && adopted?.extractId !== command.extractId) {
      return refused(refusal('candidate-unknown'));
    }
    const schemes = await store.listSchemes(survey.id);
    const { extractId } = adopted ?? survey;
    const overrides = listOverrides([...survey.log, toEntry(command, [])]);
    const rebuilt = await rebuilds.ask(survey, extractId, overrides);
    if (!rebuilt.ok) return rebuilt;
    const { pieces, renamedWays, ...base } = rebuilt.value;
    if (!hasEffect(command, base.network)) return refused(refusal('grouping-contradicted'));
    const carried = carrySchemes(survey.network, base.network, pieces, schemes, command.commandId);
    const log = [...survey.log, toEntry(command, renamedWays)];
    const revised = { ...survey, ...base, log, extractId, revision: survey.revision + 1 };
    const record = adopted === undefined ? revised : adopt(revised, adopted);
    return done({
      record,
      schemes: carried.schemes,
      notes: listNotes(carried, survey.network, rebuilt.value),
    });
  }
}

function toEntry(command: SurveyCommand, renamedWays: Rebuilt['renamedWays']): SurveyLogEntry {
  return command.kind === 'adoptExtract' ? { ...command, renamedWays } : command;
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
