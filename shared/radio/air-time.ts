/** Preamble 1, access address 4, header 2, advertiser's address 6 and check sum 3 bytes at 8 µs a byte. */
const OVERHEAD_US = (1 + 4 + 2 + 6 + 3) * 8;

/** Air time in microseconds of one advertising PDU on the LE 1M PHY: 128 + 8·N for N payload bytes (0 to 31). */
export function airTimeUs(payloadBytes: number): number {
  return OVERHEAD_US + 8 * payloadBytes;
}
