import type { BBox } from '../../shared/geodesy/lon-lat.ts';
import type { Counts, SurveyView } from '../../shared/wire/survey.ts';
import type { Visitor } from '../accounts/visitor.ts';
import type { Store } from '../store/store.ts';
import type { Surveys } from '../surveys/surveys.ts';

/** What is known of a survey without laying it out. */
export type ShownSurvey = {
  readonly id: string;
  readonly name: string;
  readonly attribution: string;
  /** When it or one of its designs was changed last, ISO 8601, UTC: what is told of its features holds since then. */
  readonly updated: string;
  /** Around its tunnels; undefined where it has none. */
  readonly bbox?: BBox;
  readonly counts: Counts;
  /** Another one whenever its features may be others. */
  readonly stand: string;
};

/** Makes the function that lists the surveys that are ready and shown to a visitor, by id: new ones push no page about. */
export function createShownSurveys(
  surveys: Pick<Surveys, 'list'>,
  store: Pick<Store, 'listRevisions' | 'onReplaced'>,
): (visitor: Visitor) => Promise<readonly ShownSurvey[]> {
  const times = new Map<string, { readonly stand: string; readonly updated: string }>();
  store.onReplaced(() => times.clear());

  const findUpdated = async (id: string, stand: string, createdAt: string): Promise<string> => {
    const known = times.get(id);
    if (known?.stand === stand) return known.updated;
    const [latest] = await store.listRevisions(id, { limit: 1 });
    const updated = latest?.at ?? createdAt;
    times.set(id, { stand, updated });
    return updated;
  };

  const toShown = async (view: SurveyView, counts: Counts): Promise<ShownSurvey> => {
    const stand = `${view.createdAt} ${view.revision}`;
    return {
      id: view.id,
      name: view.name,
      attribution: view.source?.attribution ?? '',
      updated: await findUpdated(view.id, stand, view.createdAt),
      ...(view.bbox?.every(Number.isFinite) ? { bbox: view.bbox } : {}),
      counts,
      stand,
    };
  };

  return async (visitor) => {
    const shown: ShownSurvey[] = [];
    for (const view of await surveys.list()) {
      const isTheirs = visitor.kind !== 'share' || visitor.share.surveyId === view.id;
      if (view.status === 'ready' && view.counts !== undefined && isTheirs) {
        shown.push(await toShown(view, view.counts));
      }
    }
    const ids = new Set(shown.map(({ id }) => id));
    for (const id of times.keys()) if (visitor.kind !== 'share' && !ids.has(id)) times.delete(id);
    return shown.sort((a, b) => (a.id < b.id ? -1 : 1));
  };
}
