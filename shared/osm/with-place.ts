import { RefusalError } from '../outcome/refusal.ts';

/** The same error, if it refuses damaged data, with the place where that stood put before what it already says. */
export function withPlace(error: unknown, place: string): unknown {
  if (!(error instanceof RefusalError) || error.refusal.code !== 'input-damaged') return error;
  const { where } = error.refusal.context;
  return new RefusalError('input-damaged', { where: where === undefined ? place : `${place}: ${where}` });
}
