/** Share of a normal distribution that lies below −3 standard deviations. */
const BELOW_CUT = 0.001_349_898_031_630_1;

/**
 * The standard normal deviate that a share of all lies below, for shares from 1e-10 to 1 − 1e-10, to about 1e-6. By
 * rational functions (Applied Statistics algorithm AS 241, PPND7) and without the engine's logarithm, which not every
 * engine rounds alike: drives are to be the same bytes in the browser and on the server.
 */
export function normalQuantile(share: number): number {
  const q = share - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    const top = ((59.10937472 * r + 159.29113202) * r + 50.434271938) * r + 3.3871327179;
    return (q * top) / (((67.1875636 * r + 78.757757664) * r + 17.895169469) * r + 1);
  }
  const r = Math.sqrt(-logOf(q < 0 ? share : 1 - share)) - 1.6;
  const top = ((0.17023821103 * r + 1.3067284816) * r + 2.75681539) * r + 1.4234372777;
  const deviate = top / ((0.12021132975 * r + 0.7370016425) * r + 1);
  return q < 0 ? -deviate : deviate;
}

/** The same for a normal distribution that is cut off at three standard deviations. */
export function cutNormalQuantile(share: number): number {
  return normalQuantile(BELOW_CUT + share * (1 - 2 * BELOW_CUT));
}

/** The natural logarithm of a number above 0 and below 1.5, by the series of the area tangent. */
function logOf(value: number): number {
  let scaled = value;
  let doublings = 0;
  for (; scaled < 0.75; scaled *= 2) doublings += 1;
  const y = (scaled - 1) / (scaled + 1);
  const y2 = y * y;
  let sum = 0;
  for (let odd = 13; odd >= 1; odd -= 2) sum = sum * y2 + 1 / odd;
  return 2 * y * sum - doublings * Math.LN2;
}
