import type { RulePatch, SurveyView } from '../../shared/wire/survey.ts';
import type { Api, ApiProblem, Layer } from './api.ts';
import { makeStore } from './make-store.ts';
import { type TunnelRow, toTunnelRow } from './tunnel-row.ts';

export type Loadable<T> =
  | { readonly status: 'loading' }
  | { readonly status: 'failed'; readonly problem: ApiProblem }
  | { readonly status: 'ready'; readonly value: T };

/** The layers that come whole, and only when they are asked for; the rest of the map comes in tiles. */
const LATER_LAYERS = ['context', 'findings', 'bores', 'decisions'] as const;
type LaterLayer = (typeof LATER_LAYERS)[number];

export type OpenSurvey = {
  readonly id: string;
  readonly complexes: Layer;
  readonly later: { readonly [K in LaterLayer]?: Loadable<Layer> };
  readonly rows: readonly TunnelRow[];
};

export type SurveyState = {
  readonly surveys: Loadable<readonly SurveyView[]>;
  readonly openId: string | undefined;
  readonly open: Loadable<OpenSurvey> | undefined;
};

export type SurveySession = ReturnType<typeof createSurveySession>;

/** The list of surveys and the one that is open, with its tunnels and the layers that were asked for. */
export function createSurveySession(
  api: Pick<Api, 'listSurveys' | 'layer' | 'changeRules' | 'removeSurvey'>,
) {
  const store = makeStore<SurveyState>({
    surveys: { status: 'loading' },
    openId: undefined,
    open: undefined,
  });

  const refresh = async () => {
    const answer = await api.listSurveys();
    if (answer.ok) store.patch({ surveys: { status: 'ready', value: answer.value.surveys } });
    else if (store.get().surveys.status !== 'ready') {
      store.patch({ surveys: { status: 'failed', problem: answer.problem } });
    }
    return answer.ok ? answer.value.surveys : undefined;
  };
  const findOpen = (id: string): OpenSurvey | undefined => {
    const { open, openId } = store.get();
    return openId === id && open?.status === 'ready' ? open.value : undefined;
  };
  const read = async (id: string) => {
    const answer = await api.layer(id, 'complexes');
    if (store.get().openId !== id) return;
    if (!answer.ok) {
      if (findOpen(id) === undefined) store.patch({ open: { status: 'failed', problem: answer.problem } });
      return;
    }
    const complexes = answer.value;
    const rows = complexes.features.map(toTunnelRow);
    const later = findOpen(id)?.later ?? {};
    store.patch({ open: { status: 'ready', value: { id, complexes, rows, later } } });
  };
  const readLater = async (id: string, layer: LaterLayer) => {
    const show = (loaded: Loadable<Layer>) => {
      const open = findOpen(id);
      if (open === undefined) return;
      const later = { ...open.later, [layer]: loaded };
      store.patch({ open: { status: 'ready', value: { ...open, later } } });
    };
    if (findOpen(id)?.later[layer]?.status !== 'ready') show({ status: 'loading' });
    const answer = await api.layer(id, layer);
    show(
      answer.ok ? { status: 'ready', value: answer.value } : { status: 'failed', problem: answer.problem },
    );
  };

  /** What is known of a survey, from the list. */
  const find = (id: string): SurveyView | undefined => {
    const { surveys } = store.get();
    return surveys.status === 'ready' ? surveys.value.find((one) => one.id === id) : undefined;
  };

  return {
    get: store.get,
    subscribe: store.subscribe,
    refresh,
    find,
    /** The rows of a survey, where it is the open one. */
    rows: (id: string): readonly TunnelRow[] => findOpen(id)?.rows ?? [],
    /** Opens a survey that is ready; asking for the open one again tries again what failed. */
    open(id: string) {
      const { openId, open } = store.get();
      if (openId === id && open?.status !== 'failed') return;
      store.patch({ openId: id, open: { status: 'loading' } });
      void read(id);
    },
    close: () => store.patch({ openId: undefined, open: undefined }),
    /** Loads a layer once; a failure is kept and can be tried again. */
    want(layer: LaterLayer) {
      const { openId } = store.get();
      if (openId === undefined) return;
      const known = findOpen(openId)?.later[layer];
      if (known === undefined || known.status === 'failed') void readLater(openId, layer);
    },
    /** Reads again what designs change, after edits were saved. */
    async rereadDesigns() {
      const { openId } = store.get();
      if (openId === undefined) return;
      await Promise.all([read(openId), refresh()]);
    },
    /** Reads again all of the open survey that was read of it. */
    async reread() {
      const id = store.get().openId;
      const view = (await refresh())?.find((one) => one.id === id);
      if (view !== undefined) await this.accept(view);
    },
    /** Takes over a survey that an edit has changed: itself, and every layer that was read of it. */
    async accept(view: SurveyView) {
      const { surveys, openId } = store.get();
      if (surveys.status === 'ready') {
        const value = surveys.value.map((one) => (one.id === view.id ? view : one));
        store.patch({ surveys: { status: 'ready', value } });
      }
      if (openId !== view.id) return;
      await read(view.id);
      const later = LATER_LAYERS.filter((layer) => findOpen(view.id)?.later[layer] !== undefined);
      await Promise.all(later.map((layer) => readLater(view.id, layer)));
    },
    /** Changes the rules of all tunnels and reads again what follows. Undefined where it was done. */
    async changeRules(id: string, rules: RulePatch): Promise<ApiProblem | undefined> {
      const answer = await api.changeRules(id, rules);
      if (!answer.ok) return answer.problem;
      await this.rereadDesigns();
      return undefined;
    },
    async remove(id: string): Promise<ApiProblem | undefined> {
      const answer = await api.removeSurvey(id);
      await refresh();
      if (answer.ok && store.get().openId === id) store.patch({ openId: undefined, open: undefined });
      return answer.ok ? undefined : answer.problem;
    },
  };
}
