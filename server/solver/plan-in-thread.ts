import type { Result } from '../../shared/outcome/result.ts';
import type { Programme } from '../../shared/ranking/programme.ts';
import type { ProgrammeInput } from '../../shared/ranking/programme-model.ts';
import { askThread } from './ask-thread.ts';

export type PlanTask = { readonly input: ProgrammeInput; readonly timeLimitS: number };

/**
 * Plans a programme in a thread of its own; undefined where `signal` fires before there is an answer. Refuses as
 * `planProgramme`.
 */
export function planInThread(task: PlanTask, signal: AbortSignal): Promise<Result<Programme> | undefined> {
  return askThread<Result<Programme>>('plan-thread', task, signal);
}
