import type { SurveyView } from '../../shared/wire/survey.ts';
import { useStore } from '../ui/use-store.ts';
import { useSessions } from './sessions.ts';

/** What the list of surveys says of the open one. */
export function useOpenView(): SurveyView | undefined {
  const { surveys } = useSessions();
  const { openId, surveys: list } = useStore(surveys);
  return list.status === 'ready' ? list.value.find((one) => one.id === openId) : undefined;
}
