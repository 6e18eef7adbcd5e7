import type { Scheme } from '../../shared/scheme/scheme.ts';
import type { Store, SurveyRecord } from './store.ts';

/** Keeps everything in memory: gone when the process ends. */
export function createMemoryStore(): Store {
  const surveys = new Map<string, SurveyRecord>();
  const schemes = new Map<string, ReadonlyMap<string, Scheme>>();
  const extracts = new Map<string, Uint8Array>();

  const dropUnused = () => {
    const used = new Set([...surveys.values()].flatMap(listExtracts));
    for (const id of extracts.keys()) if (!used.has(id)) extracts.delete(id);
  };
  return {
    async listSurveys() {
      return [...surveys.values()].sort((a, b) =>
        a.createdAt === b.createdAt ? (a.id < b.id ? -1 : 1) : a.createdAt < b.createdAt ? 1 : -1,
      );
    },
    async findSurvey(id) {
      return surveys.get(id);
    },
    async saveSurvey(record, extract) {
      surveys.set(record.id, record);
      extracts.set(record.extractId, extract);
      dropUnused();
    },
    async swapSurvey(baseRevision, record, extra = {}) {
      if (surveys.get(record.id)?.revision !== baseRevision) return false;
      surveys.set(record.id, record);
      if (extra.extract !== undefined && record.candidate !== undefined) {
        extracts.set(record.candidate.extractId, extra.extract);
      }
      if (extra.schemes !== undefined) {
        schemes.set(record.id, new Map(extra.schemes.map((scheme) => [scheme.complexId, scheme])));
      }
      dropUnused();
      return true;
    },
    async removeSurvey(id) {
      schemes.delete(id);
      const isRemoved = surveys.delete(id);
      dropUnused();
      return isRemoved;
    },
    async findExtract(id) {
      return extracts.get(id);
    },
    async findScheme(surveyId, complexId) {
      return schemes.get(surveyId)?.get(complexId);
    },
    async listSchemes(surveyId) {
      return [...(schemes.get(surveyId)?.values() ?? [])].sort((a, b) =>
        a.complexId < b.complexId ? -1 : 1,
      );
    },
    async saveScheme(surveyId, base, scheme) {
      const survey = surveys.get(surveyId);
      if (survey?.revision !== base.survey) return false;
      const ofSurvey = schemes.get(surveyId) ?? new Map<string, Scheme>();
      if ((ofSurvey.get(scheme.complexId)?.revision ?? 0) !== base.scheme) return false;
      schemes.set(surveyId, new Map([...ofSurvey, [scheme.complexId, scheme]]));
      surveys.set(surveyId, { ...survey, revision: survey.revision + 1 });
      return true;
    },
  };
}

function listExtracts({ extractId, candidate }: SurveyRecord): readonly string[] {
  return candidate === undefined ? [extractId] : [extractId, candidate.extractId];
}
