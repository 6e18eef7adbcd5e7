/** The parts of seek-bzip 2.0.0 that are used here: its own loop (`Bunzip.decode`), one step at a time. */
declare module 'seek-bzip' {
  type Input = { readByte(): number; read(buffer: Uint8Array, offset: number, length: number): number };
  type Output = { writeByte(byte: number): void };
  export default class Bunzip {
    constructor(input: Input, output: Output);
    readonly reader: { read(bits: number): number };
    readonly streamCRC: number;
    /** Reads the next block's data; false where the stream ends instead. */
    _init_block(): boolean;
    /** Writes the block to the output. */
    _read_bunzip(): number;
    /** Begins the next of several streams. */
    _start_bunzip(input: Input, output: Output): void;
  }
}
