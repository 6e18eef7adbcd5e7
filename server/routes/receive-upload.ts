import { randomUUID } from 'node:crypto';
import { createWriteStream } from 'node:fs';
import { rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { ReadableStream } from 'node:stream/web';
import busboy from 'busboy';
import type { Context } from 'hono';
import { type Refusal, refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';

/** Whether a request brings a file, which `receiveUpload` takes. */
export function isUpload(c: Context): boolean {
  const isForm = c.req.header('content-type')?.startsWith('multipart/form-data') === true;
  return isForm && c.req.method === 'POST' && UPLOAD_PATHS.test(c.req.path);
}

/** A new survey, or a newer extract for one. */
const UPLOAD_PATHS = /^\/api\/surveys(\/[^/]+\/candidate)?$/;

const MAX_NAME_LENGTH = 200;
/** What a form has beside the file. */
const FORM_BYTES = 100_000;

/** A file that was sent, now on disk; whoever takes it removes it. */
export type ReceivedFile = { readonly path: string; readonly fileName: string; readonly surveyName?: string };

/**
 * Streams the `file` of a multipart request to a temporary file, so that a large upload never stands in memory.
 * Refused: `request-too-large` above the limit, `request-invalid` without a file or with a broken body.
 */
export async function receiveUpload(request: Request, limitBytes: number): Promise<Result<ReceivedFile>> {
  if (request.body === null) return refused(refusal('request-invalid', { reason: 'there is no file in it' }));
  const tooLarge = refusal('request-too-large', { limit: `${Math.floor(limitBytes / 1e6)} MB` });
  // Whoever says beforehand how much comes need not send it in vain.
  if (Number(request.headers.get('content-length')) > limitBytes + FORM_BYTES) return refused(tooLarge);
  const path = join(tmpdir(), `boremark-${randomUUID()}.upload`);
  let fileName: string | undefined;
  let surveyName: string | undefined;
  let problem: Refusal | undefined;
  const writes: Promise<void>[] = [];
  try {
    const parser = busboy({
      headers: { 'content-type': request.headers.get('content-type') ?? '' },
      // Browsers write file names in UTF-8; busboy would read them as Latin-1.
      defParamCharset: 'utf8',
      limits: { files: 1, fileSize: limitBytes, fields: 10, fieldSize: 1000 },
    });
    parser.on('field', (name, value) => {
      if (name === 'name') surveyName = value.trim();
    });
    parser.on('file', (field, stream, info) => {
      if (field !== 'file') {
        stream.resume();
        return;
      }
      fileName = (info.filename || 'upload').slice(0, MAX_NAME_LENGTH);
      stream.on('limit', () => {
        problem = tooLarge;
      });
      writes.push(pipeline(stream, createWriteStream(path)));
    });
    await pipeline(Readable.fromWeb(request.body as ReadableStream), parser);
    await Promise.all(writes);
  } catch (error) {
    await Promise.allSettled(writes);
    problem ??= refusal('request-invalid', {
      reason: error instanceof Error ? error.message : 'broken upload',
    });
  }
  if (problem === undefined && fileName === undefined) {
    problem = refusal('request-invalid', { reason: 'there is no file in it' });
  }
  if (problem !== undefined) {
    await rm(path, { force: true });
    return refused(problem);
  }
  return done({
    path,
    fileName: fileName ?? 'upload',
    ...(surveyName === undefined || surveyName === ''
      ? {}
      : { surveyName: surveyName.slice(0, MAX_NAME_LENGTH) }),
  });
}
