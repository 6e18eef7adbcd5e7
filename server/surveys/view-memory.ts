import type { SurveyView } from '../../shared/wire/survey.ts';
import type { Store, SurveyRecord, SurveyStand } from '../store/store.ts';

/** A survey as it is told, but for what is being done to it just now. */
export type KeptView = Omit<SurveyView, 'candidateJob'>;

export type ViewMemory = {
  tell(record: SurveyRecord): Promise<KeptView>;
  /** The same of a survey that is not read yet, which it need not be where that was told before; undefined where it is gone. */
  find(stand: SurveyStand): Promise<KeptView | undefined>;
};

export type ViewMemoryDeps = {
  readonly store: Pick<Store, 'findSurvey' | 'findView' | 'keepView' | 'onReplaced'>;
  readonly now: () => Date;
  /** Another one for every build of the program, which may count otherwise. */
  readonly edition: string;
};

/** So often is what is told of one survey kept in the store. */
const KEEP_EVERY_MS = 60_000;

/**
 * Remembers how surveys are told, here and for other servers and the next start in the store: to tell how many beacons
 * a country has, all of them have to be laid out.
 */
export function createViewMemory(
  { store, now, edition }: ViewMemoryDeps,
  toView: (record: SurveyRecord) => Promise<KeptView>,
): ViewMemory {
  const known = new Map<string, { readonly stand: SurveyStand; readonly view: KeptView }>();
  const keptAt = new Map<string, number>();
  store.onReplaced(() => known.clear());

  const recall = ({ id, createdAt, revision }: SurveyStand): KeptView | undefined => {
    const found = known.get(id);
    const isSame = found?.stand.createdAt === createdAt && found.stand.revision === revision;
    return isSame ? found.view : undefined;
  };

  const remember = ({ id, createdAt, revision }: SurveyStand, view: KeptView): KeptView => {
    known.set(id, { stand: { id, createdAt, revision }, view });
    return view;
  };

  const tell = async (record: SurveyRecord): Promise<KeptView> => {
    const before = recall(record);
    if (before !== undefined) return before;
    const view = remember(record, await toView(record));
    const at = now().getTime();
    if (at - (keptAt.get(record.id) ?? Number.NEGATIVE_INFINITY) > KEEP_EVERY_MS) {
      keptAt.set(record.id, at);
      await store.keepView(record, edition, JSON.stringify(view));
    }
    return view;
  };

  return {
    tell,
    async find(stand) {
      const before = recall(stand);
      if (before !== undefined) return before;
      const text = await store.findView(stand, edition);
      if (text !== undefined) return remember(stand, JSON.parse(text) as KeptView);
      const record = await store.findSurvey(stand.id);
      return record && tell(record);
    },
  };
}
