import { describe, expect, it } from 'vitest';
import { drawPlace } from '../../tests/places/draw-place.ts';
import { buildNetwork, NETWORK_RULES } from '../network/build-network.ts';
import type { OsmExtract, Tags } from '../osm/extract.ts';
import { DEFAULT_RULES } from '../placement/rules.ts';
import { rebuildSurvey } from './rebuild-survey.ts';
import { rulesFor } from './rules-for.ts';

const road = { highway: 'primary', lanes: '2', maxspeed: '60' };

/** A tunnel and, in the open air behind it, a ring in the given order of its nodes. */
function place(ring: readonly number[], ringTags: Tags): OsmExtract {
  return drawPlace({
    nodes: { 1: [0, 0], 2: [400, 0], 3: [420, -20], 4: [440, 0], 5: [420, 20] },
    ways: [
      { id: 11, nodes: [1, 2], tags: { ...road, tunnel: 'yes' } },
      { id: 12, nodes: ring, tags: { ...road, ...ringTags } },
    ],
  });
}

const network = (extract: OsmExtract) => buildNetwork(extract, NETWORK_RULES).value;

/** South, east, north: counter-clockwise, as it is driven where traffic keeps right. */
const counterClockwise = [2, 3, 4, 5, 2];
const clockwise = counterClockwise.toReversed();

describe('rulesFor', () => {
  it.each([
    ['right', counterClockwise, { junction: 'roundabout' }],
    ['left', clockwise, { junction: 'roundabout' }],
    ['left', counterClockwise, { driving_side: 'left' }],
  ] as const)('takes the side that traffic keeps to from the roads: %s', (side, ring, tags) => {
    expect(rulesFor(network(place(ring, tags)))).toEqual({ ...DEFAULT_RULES, drivingSide: side });
  });

  it('keeps the default where no road shows it', () => {
    const found = network(place(clockwise, {}));
    expect(found).not.toHaveProperty('drivingSide');
    expect(rulesFor(found)).toEqual(DEFAULT_RULES);
  });

  it('lets a person say otherwise', () => {
    const found = network(place(clockwise, { junction: 'roundabout' }));
    const rules = rulesFor(found, { drivingSide: 'right', spacingM: 25 });
    expect(rules).toEqual({ ...DEFAULT_RULES, drivingSide: 'right', spacingM: 25 });
  });

  it('finds it again in a network that is built anew under kept ids', () => {
    const extract = place(clockwise, { junction: 'roundabout' });
    const again = rebuildSurvey(network(place(clockwise, {})), extract, 'place', []);
    expect(again.ok && again.value.network.drivingSide).toBe('left');
  });
});
