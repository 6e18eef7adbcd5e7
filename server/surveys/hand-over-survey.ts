import type { Result } from '../../shared/outcome/result.ts';
import { done } from '../../shared/outcome/result.ts';
import { countLayer } from '../../shared/pipeline/walk-layer.ts';
import type { HandOverPreview, HandOverRequest } from '../../shared/wire/hand-over.ts';
import { EXPORTED_LAYERS } from '../../shared/wire/layers.ts';
import { chooseTunnels } from '../hand-over/choose-tunnels.ts';
import { type HandOverFile, makeHandOver } from '../hand-over/make-hand-over.ts';
import { readHandOver } from '../hand-over/read-hand-over.ts';
import { toFileName } from '../hand-over/to-file-name.ts';
import type { SurveyRecord } from '../store/store.ts';
import { type DerivedSurveys, RANKED } from './derived-surveys.ts';

/** The file that is asked for, with its tunnels laid out as they are now; refused as `readHandOver` and `makeHandOver`. */
export async function handOverSurvey(
  asked: SurveyRecord,
  derived: DerivedSurveys,
  request: HandOverRequest,
  at: Date,
): Promise<Result<HandOverFile>> {
  const read = readHandOver(request);
  if (!read.ok) return read;
  const isRanked = read.value.layers.some((layer) => RANKED.has(layer));
  const { survey, ...laidOut } = await derived.laidOut(asked, isRanked);
  return makeHandOver(read.value, { ...laidOut, base: survey, name: survey.name, at });
}

/** How many features of each layer these tunnels have, or all; refused as `chooseTunnels`. */
export async function previewHandOver(
  asked: SurveyRecord,
  derived: DerivedSurveys,
  tunnels: readonly string[] | undefined,
): Promise<Result<HandOverPreview>> {
  const { survey, designed } = await derived.laidOut(asked, false);
  const chosen = chooseTunnels(designed, tunnels && new Set(tunnels));
  if (!chosen.ok) return chosen;
  const counts = EXPORTED_LAYERS.map((layer) => [layer, countLayer(layer, chosen.value)]);
  return done({
    tunnels: chosen.value.length,
    layers: Object.fromEntries(counts),
    name: toFileName(survey.name),
  });
}
