import type { Scheme } from '../../shared/scheme/scheme.ts';
import type { Store, SurveyRecord } from './store.ts';

/** Keeps everything in memory: gone when the process ends. */
export function createMemoryStore(): Store {
  const surveys = new Map<string, SurveyRecord>();
  const schemes = new Map<string, Map<string, Scheme>>();
  return {
    async listSurveys() {
      return [...surveys.values()].sort((a, b) =>
        a.createdAt === b.createdAt ? (a.id < b.id ? -1 : 1) : a.createdAt < b.createdAt ? 1 : -1,
      );
    },
    async findSurvey(id) {
      return surveys.get(id);
    },
    async saveSurvey(record) {
      surveys.set(record.id, record);
    },
    async swapSurvey(baseRevision, record) {
      if (surveys.get(record.id)?.revision !== baseRevision) return false;
      surveys.set(record.id, record);
      return true;
    },
    async removeSurvey(id) {
      schemes.delete(id);
      return surveys.delete(id);
    },
    async findScheme(surveyId, complexId) {
      return schemes.get(surveyId)?.get(complexId);
    },
    async listSchemes(surveyId) {
      return [...(schemes.get(surveyId)?.values() ?? [])].sort((a, b) =>
        a.complexId < b.complexId ? -1 : 1,
      );
    },
    async saveScheme(surveyId, baseRevision, scheme) {
      if (!surveys.has(surveyId)) return false;
      const ofSurvey = schemes.get(surveyId) ?? new Map<string, Scheme>();
      if ((ofSurvey.get(scheme.complexId)?.revision ?? 0) !== baseRevision) return false;
      ofSurvey.set(scheme.complexId, scheme);
      schemes.set(surveyId, ofSurvey);
      return true;
    },
  };
}
