import { RULES } from '../../shared/placement/rules.ts';
import type { LogEntry } from '../../shared/scheme/scheme.ts';
import { formatChainage } from '../ui/format.ts';
import { words } from '../words.ts';

/** An edit in a few words, for telling what was missed or not saved. */
export function describeCommand(command: LogEntry): string {
  const say = words.saving.edits;
  switch (command.kind) {
    case 'setRule': {
      const { label, unit } = RULES[command.rule];
      return say.setRule(label, command.value === null ? say.surveyValue : `${command.value} ${unit}`);
    }
    case 'setSide':
      return say.setSide(command.side ?? say.surveyValue);
    case 'slideBeacon':
      return say.slideBeacon(formatChainage(command.to.chainageM));
    case 'setAnchor':
      return say.setAnchor(words.beacons.anchors[command.anchor]);
    case 'carry':
      return say.carry;
    case 'releaseBeacon':
      return say.releaseBeacon;
    case 'revert':
      return say.revert;
  }
}

/** Several edits, in order. */
export function describeCommands(commands: readonly LogEntry[]): string {
  return commands.map(describeCommand).join(', ');
}
