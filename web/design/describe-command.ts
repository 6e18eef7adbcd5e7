import { CHOICE_RULES, isChoice, NUMBER_RULES, type RuleName } from '../../shared/placement/rules.ts';
import type { LogEntry } from '../../shared/scheme/scheme.ts';
import { formatChainage } from '../ui/format.ts';
import { words } from '../words.ts';

/** An edit in a few words, for telling what was missed or not saved. */
export function describeCommand(command: LogEntry): string {
  const say = words.saving.edits;
  switch (command.kind) {
    case 'setRule':
      return describeRule(command.rule, command.value);
    case 'slideBeacon':
      return say.slideBeacon(formatChainage(command.to.chainageM), command.wall);
    case 'setAnchor':
      return say.setAnchor(words.beacons.anchors[command.anchor]);
    case 'setRadius':
      return say.setRadius(command.radiusM === null ? say.schemeRadius : `${command.radiusM} m`);
    case 'addKeepOut': {
      const { fromM, toM } = command.keepOut;
      return say.addKeepOut(formatChainage(fromM), formatChainage(toM));
    }
    case 'removeKeepOut':
      return say.removeKeepOut;
    case 'acceptSolution':
      return command.solution === null
        ? say.dropSolution
        : say.acceptSolution(command.solution.places.length);
    case 'carry':
      return say.carry;
    case 'releaseBeacon':
      return say.releaseBeacon;
    case 'revert':
      return say.revert;
  }
}

/** A rule that was set, with its value and unit. */
export function describeRule(rule: RuleName, value: number | string | null): string {
  const say = words.saving.edits;
  if (isChoice(rule)) {
    const names: Readonly<Record<string, string>> = words.rules.options[rule];
    return say.setRule(CHOICE_RULES[rule].label, value === null ? say.surveyValue : (names[value] ?? ''));
  }
  const { label, unit } = NUMBER_RULES[rule];
  return say.setRule(label, value === null ? say.surveyValue : `${value} ${unit}`.trim());
}

/** Several edits, in order. */
export function describeCommands(commands: readonly LogEntry[]): string {
  return commands.map(describeCommand).join(', ');
}
