import { readFileSync } from 'node:fs';

export type RecordedAnswer = {
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: Uint8Array<ArrayBuffer>;
};

/** Reads a recorded answer of this folder: its status, content type and bytes. */
export function readRecorded(name: string): RecordedAnswer {
  const head = readFileSync(new URL(`${name}.headers`, import.meta.url), 'utf8');
  const status = /^HTTP\/1\.1 (\d{3})/.exec(head)?.[1];
  const type = /^content-type: (.*?)\r?$/im.exec(head)?.[1];
  if (status === undefined || type === undefined) throw new Error(`${name}.headers has no status or type`);
  const body = new Uint8Array(readFileSync(new URL(`${name}.body`, import.meta.url)));
  return { status: Number(status), headers: { 'Content-Type': type }, body };
}
