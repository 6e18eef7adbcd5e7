import { promisify } from 'node:util';
import { gunzip } from 'node:zlib';
import { LatestMap } from '../latest-map.ts';
import type { Surveys } from '../surveys/surveys.ts';
import type { CollectionId } from './collections.ts';
import { buildFeatureIndex, type FeatureIndex } from './feature-index.ts';
import type { ShownSurvey } from './shown-surveys.ts';

/** The features of a survey in a collection; undefined where the survey has gone meanwhile. */
export type GetFeatures = (
  survey: Pick<ShownSurvey, 'id' | 'stand'>,
  collection: CollectionId,
) => Promise<FeatureIndex | undefined>;

/** All collections of three surveys. One that has to be read anew takes 1 s for 100,000 beacons. */
const IN_MEMORY = 15;

const unzip = promisify(gunzip);

/** Holds the features that were asked for latest, for as long as their survey does not change. */
export function createFeatureIndexes(
  surveys: Pick<Surveys, 'layerGzip'>,
  store: { onReplaced(listener: () => void): void },
): GetFeatures {
  type Kept = { readonly stand: string; readonly index: Promise<FeatureIndex | undefined> };
  const kept = new LatestMap<string, Kept>(IN_MEMORY);
  store.onReplaced(() => kept.clear());

  const read = async (id: string, collection: CollectionId): Promise<FeatureIndex | undefined> => {
    const layer = await surveys.layerGzip(id, collection);
    return layer.ok ? buildFeatureIndex(await unzip(layer.value.bytes)) : undefined;
  };

  return ({ id, stand }, collection) => {
    const name = `${collection} ${id}`;
    const found = kept.get(name);
    if (found?.stand === stand) return found.index;
    const made = { stand, index: read(id, collection) };
    kept.set(name, made);
    // What could not be read is tried anew by whoever asks next.
    made.index.catch(() => kept.get(name) === made && kept.delete(name));
    return made.index;
  };
}
