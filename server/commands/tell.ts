/** Progress, only where a person is watching; each line replaces the one before. */
export function tell(text: string): void {
  if (process.stderr.isTTY) process.stderr.write(`\r\x1b[2K${text}`);
}
