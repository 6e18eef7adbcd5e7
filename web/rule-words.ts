import type { ChoiceRule, Option } from '../shared/placement/rules.ts';

/** The options of the rules that are a choice, in short. */
export const optionWords: { readonly [C in ChoiceRule]: Readonly<Record<Option<C>, string>> } = {
  method: { even: 'even intervals', fewest: 'fewest beacons' },
  side: {
    near: 'near side',
    left: 'left',
    right: 'right',
    alternate: 'alternate',
    both: 'both',
  },
  drivingSide: { right: 'right', left: 'left' },
  coverageSource: { hand: 'the radius by hand', model: 'the radio model', measured: 'a measurement' },
  beaconProfile: {
    frequent: 'frequent',
    standard: 'standard',
    sparing: 'sparing',
    strong: 'strong',
  },
  receiverProfile: {
    continuous: 'continuous',
    balanced: 'balanced',
    'low-power': 'low power',
    sparse: 'sparse',
  },
  assumedSpeed: { limit: 'the speed limit', entry: 'the speed at entry' },
  speedShape: { normal: 'normal', uniform: 'uniform' },
  region: { europe: 'Europe', 'united-states': 'United States' },
};
