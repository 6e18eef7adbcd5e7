import { gzipSync } from 'node:zlib';
import { makeCollection } from '../../shared/export/make-collection.ts';
import { findOrigin } from '../../shared/export/origin.ts';
import { toContextFeatures } from '../../shared/export/to-context-features.ts';
import type { Result } from '../../shared/outcome/result.ts';
import { done } from '../../shared/outcome/result.ts';
import { buildSurvey } from '../../shared/pipeline/build-survey.ts';
import type { Area, Progress } from '../../shared/wire/survey.ts';
import { packExtract } from '../extracts/pack-extract.ts';
import { readExtractFile } from '../extracts/read-extract.ts';
import type { SurveyRecord } from '../store/store.ts';

/** What an import is asked to do: read the file at `path`, which the person knows as `name`. */
export type ImportTask = { readonly path: string; readonly name: string; readonly area?: Area };

/** What an import gives; the service adds id, name, time and rules. */
export type ImportedSurvey = Pick<
  SurveyRecord,
  'ways' | 'tunnelWays' | 'network' | 'findings' | 'contextGzip' | 'source' | 'extractId'
> & { readonly extract: Uint8Array };

/** Reads a file, builds the network and the map's background. Runs in a worker thread so that the server keeps serving. */
export async function runImport(
  task: ImportTask,
  report: (progress: Progress) => void,
): Promise<Result<ImportedSurvey>> {
  report({ stage: 'reading', done: 0 });
  let bytes = 0;
  const extract = await readExtractFile(task.path, {
    name: task.name,
    onProgress: (bytesRead) => {
      bytes = bytesRead;
      report({ stage: 'reading', done: bytesRead });
    },
  });
  if (!extract.ok) return extract;
  report({ stage: 'network', done: 0 });
  const base = buildSurvey(extract.value, task.name);
  if (!base.ok) return base;
  report({ stage: 'map', done: 0 });
  const context = JSON.stringify(
    makeCollection(toContextFeatures(extract.value), findOrigin(extract.value.source)),
  );
  const { format, timestamp, generator } = extract.value.source;
  const packed = await packExtract(extract.value);
  return done({
    ...base.value,
    extractId: packed.id,
    extract: packed.bytes,
    source: {
      format,
      name: task.name,
      bytes,
      ...(timestamp === undefined ? {} : { timestamp }),
      ...(generator === undefined ? {} : { generator }),
      ...(task.area === undefined ? {} : { area: task.area }),
    },
    contextGzip: gzipSync(context, { level: 6 }),
  });
}
