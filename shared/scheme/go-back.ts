import { byText } from '../outcome/by-text.ts';
import { replay } from './apply-command.ts';
import { type Carry, makeScheme, type Scheme } from './scheme.ts';

/**
 * Lets the designs of a survey be again what they were: `then` is all of them at an earlier revision. A design that
 * was the same stays as it is; every other one gets one line more in its log, which holds the content of then, so that
 * nothing that was done meanwhile is lost from the history. Sorted by complex.
 *
 * @param commandId id of the survey's command that goes back.
 */
export function goBackSchemes(
  now: readonly Scheme[],
  then: readonly Scheme[],
  commandId: string,
): readonly Scheme[] {
  const before = new Map(then.map((scheme) => [scheme.complexId, scheme]));
  const present = new Map(now.map((scheme) => [scheme.complexId, scheme]));
  const ids = [...new Set([...present.keys(), ...before.keys()])].sort(byText);
  return ids.map((id) => {
    const scheme = present.get(id) ?? makeScheme(id);
    const content = contentOf(before.get(id) ?? makeScheme(id));
    if (JSON.stringify(content) === JSON.stringify(contentOf(scheme))) return scheme;
    const carry: Carry = { kind: 'carry', commandId, ...content };
    const log = [...scheme.log, carry];
    return { complexId: id, revision: log.length, ...replay(log), log };
  });
}

function contentOf({ rules, pinned, keepOuts, solution }: Scheme) {
  const sorted = Object.fromEntries(Object.entries(rules).sort(([a], [b]) => byText(a, b)));
  return { rules: sorted, pinned, keepOuts, ...(solution === undefined ? {} : { solution }) };
}
