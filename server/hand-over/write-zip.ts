import { Zip, ZipDeflate } from 'fflate';
import type { TextFile } from '../../shared/pipeline/list-survey-files.ts';
import { writeText } from './write-text.ts';

/** One fixed time, which a zip holds as local time: equal content gives equal bytes in every time zone. */
const MADE_AT = () => new Date(2020, 0, 1);

/** A zip of text files, written as it is read: never more than a chunk of it is held. Throws when `signal` fires. */
export async function* writeZip(files: readonly TextFile[], signal: AbortSignal): AsyncGenerator<Uint8Array> {
  let ready: Uint8Array[] = [];
  const zip = new Zip((error, chunk) => {
    if (error !== null) throw error;
    ready.push(chunk);
  });
  const take = () => {
    const taken = ready;
    ready = [];
    return taken;
  };
  for (const { name, pieces } of files) {
    const entry = new ZipDeflate(name, { level: 6 });
    entry.mtime = MADE_AT();
    zip.add(entry);
    for await (const bytes of writeText(pieces, signal)) {
      entry.push(bytes);
      yield* take();
    }
    entry.push(new Uint8Array(0), true);
    yield* take();
  }
  zip.end();
  yield* take();
}
