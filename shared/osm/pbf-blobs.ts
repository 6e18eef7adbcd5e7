import { RefusalError } from '../outcome/refusal.ts';
import { makeByteQueue } from './byte-queue.ts';
import { WireCursor } from './wire-cursor.ts';
import { withPlace } from './with-place.ts';

const MAX_HEADER_BYTES = 64 * 1024;
const MAX_BLOB_BYTES = 32 * 2 ** 20;
/** Blobs of map data pack to about a quarter; one that unpacks to this many times its size was made to harm. */
const MAX_RATIO = 300;
const RATIO_FROM_BYTES = 2 ** 20;

const COMPRESSIONS: ReadonlyMap<number, string> = new Map([
  [4, 'lzma'],
  [5, 'bzip2'],
  [6, 'lz4'],
  [7, 'zstd'],
]);

const text = new TextDecoder();

/** Unpacks zlib data of which `rawSize` bytes must come out; throws when they do not. */
export type Inflate = (bytes: Uint8Array, rawSize: number) => Uint8Array;

export type BlobReader = {
  push(chunk: Uint8Array): void;
  /** Refuses 'input-truncated' when the file ended inside a blob. */
  end(): void;
};

/**
 * Splits an OSM PBF file that arrives in pieces into its blobs, and hands each over, unpacked, as soon as it is
 * complete. Refuses sizes above the format's limits (64 KiB for a header, 32 MiB for a blob) before reading them,
 * compressions other than zlib by name, and 'input-expands-too-far' for a blob that unpacks to 300 times its size.
 */
export function makeBlobReader(
  inflate: Inflate,
  onBlob: (type: string, bytes: Uint8Array) => void,
): BlobReader {
  const queue = makeByteQueue();
  let headerSize: number | undefined;
  let header: { readonly type: string; readonly size: number } | undefined;
  let blobs = 0;
  const step = (): boolean => {
    if (headerSize === undefined) {
      const bytes = queue.take(4);
      if (bytes !== undefined) headerSize = toHeaderSize(bytes);
      return bytes !== undefined;
    }
    if (header === undefined) {
      const bytes = queue.take(headerSize);
      if (bytes !== undefined) header = toHeader(bytes);
      return bytes !== undefined;
    }
    const bytes = queue.take(header.size);
    if (bytes === undefined) return false;
    if (header.type === 'OSMHeader' || header.type === 'OSMData')
      onBlob(header.type, unpackBlob(bytes, inflate));
    headerSize = undefined;
    header = undefined;
    blobs += 1;
    return true;
  };
  return {
    push(chunk) {
      queue.push(chunk);
      try {
        while (step());
      } catch (error) {
        throw withPlace(error, `blob ${blobs + 1}`);
      }
    },
    end() {
      if (headerSize === undefined && queue.byteLength === 0) return;
      throw new RefusalError('input-truncated', { where: `in blob ${blobs + 1}` });
    },
  };
}

/** The size of a blob's header from the four bytes before it; refuses 'input-damaged' above 64 KiB. */
export function toHeaderSize(bytes: Uint8Array): number {
  const size = new DataView(bytes.buffer, bytes.byteOffset).getUint32(0);
  if (size === 0 || size >= MAX_HEADER_BYTES) throw damaged(`a header of ${size} bytes`);
  return size;
}

/** What follows a blob's header, and how many bytes; refuses 'input-damaged' above 32 MiB. */
export function toHeader(bytes: Uint8Array): { type: string; size: number } {
  const cursor = new WireCursor(bytes);
  let type = '';
  let size = -1;
  while (!cursor.done) {
    const tag = cursor.readUnsigned();
    if (tag === 10) type = text.decode(cursor.readBytes());
    else if (tag === 24) size = cursor.readSigned();
    else cursor.skip(tag);
  }
  if (type === '' || size < 0) throw damaged('a header without type or size');
  if (size > MAX_BLOB_BYTES) throw damaged(`${size} bytes, more than the format allows`);
  return { type, size };
}

/** A blob's content; refuses as `makeBlobReader` does. */
export function unpackBlob(bytes: Uint8Array, inflate: Inflate): Uint8Array {
  const cursor = new WireCursor(bytes);
  let rawSize: number | undefined;
  let raw: Uint8Array | undefined;
  let zlib: Uint8Array | undefined;
  while (!cursor.done) {
    const tag = cursor.readUnsigned();
    const other = COMPRESSIONS.get(tag >>> 3);
    if (other !== undefined) throw damaged(`${other} compression, which is not read: zlib is`);
    if (tag === 10) raw = cursor.readBytes();
    else if (tag === 16) rawSize = cursor.readSigned();
    else if (tag === 26) zlib = cursor.readBytes();
    else cursor.skip(tag);
  }
  if (zlib === undefined) return checkRaw(raw, rawSize);
  if (rawSize === undefined || rawSize < 0) throw damaged('no unpacked size');
  if (rawSize > MAX_BLOB_BYTES) throw damaged(`${rawSize} bytes unpacked, more than the format allows`);
  return inflateExactly(zlib, rawSize, inflate);
}

function checkRaw(raw: Uint8Array | undefined, rawSize: number | undefined): Uint8Array {
  if (raw === undefined) throw damaged('no data');
  if (rawSize !== undefined && rawSize !== raw.length) throw damaged('another size than it says');
  return raw;
}

function inflateExactly(zlib: Uint8Array, rawSize: number, inflate: Inflate): Uint8Array {
  if (rawSize > RATIO_FROM_BYTES && rawSize > MAX_RATIO * zlib.length) {
    throw new RefusalError('input-expands-too-far', { limit: MAX_RATIO });
  }
  let bytes: Uint8Array;
  try {
    bytes = inflate(zlib, rawSize);
  } catch {
    throw damaged('its compressed data cannot be unpacked');
  }
  if (bytes.length !== rawSize) throw damaged('another size than it says');
  return bytes;
}

function damaged(where: string): RefusalError {
  return new RefusalError('input-damaged', { where });
}
