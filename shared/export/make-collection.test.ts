import { describe, expect, it } from 'vitest';
import profile from '../../data/profiles/rules.json';
import { toSurveyLayer } from '../pipeline/to-survey-layers.ts';
import { DEFAULT_RULES, type Rules } from '../placement/rules.ts';
import { EXPORTED_LAYERS } from '../wire/layers.ts';
import { makeDesign, network } from './design.fixture.ts';
import { makeCollection } from './make-collection.ts';
import { OSM_ORIGIN } from './origin.ts';
import { collectionSchema } from './schemas/feature-schemas.ts';

const design = makeDesign([{ chainageM: 100, wall: 'right', radiusM: 25 }]);
const rules: Rules = { ...DEFAULT_RULES, spacingM: 25, side: 'both' };

describe('every exported collection', () => {
  it.each(EXPORTED_LAYERS)('of %s names a value for every rule and the version of the set', (layer) => {
    const collection = toSurveyLayer(layer, [{ network, design }], [], { rules, origin: OSM_ORIGIN });
    expect(collection).toMatchObject({ rules, rulesVersion: profile.version });
    expect(Object.keys(collection.rules ?? {}).sort()).toEqual(
      [...Object.keys(profile.numbers), ...Object.keys(profile.choices)].sort(),
    );
    expect(collectionSchema(layer).safeParse(collection).error?.issues).toBeUndefined();
  });

  it('gets the default of a rule that is younger than what was kept', () => {
    const { side: _, ...older } = rules;
    const collection = makeCollection([], OSM_ORIGIN, { rules: older as Rules });
    expect(collection.rules).toEqual({ ...rules, side: 'near' });
  });

  it.each([
    ['a value out of range', { rules: { ...rules, spacingM: 1 } }],
    ['a choice that is none', { rules: { ...rules, side: 'ceiling' } }],
    ['a rule too few', { rules: { ...rules, spacingM: undefined } }],
    ['a rule too many', { rules: { ...rules, colour: 'red' } }],
    ['no version', { rulesVersion: undefined }],
  ])('is not to the schema with %s', (_, change) => {
    const collection = toSurveyLayer('beacons', [], [], { rules, origin: OSM_ORIGIN });
    expect(collectionSchema('beacons').safeParse(collection).success).toBe(true);
    expect(collectionSchema('beacons').safeParse({ ...collection, ...change }).success).toBe(false);
  });
});
