/** A new id for a command. `crypto.randomUUID` is missing on plain http away from loopback; random values are not. */
export function makeCommandId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}
