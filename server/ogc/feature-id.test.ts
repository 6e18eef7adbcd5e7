import { describe, expect, it } from 'vitest';
import { fromFeatureId, toFeatureId } from './feature-id.ts';

describe('a feature’s id', () => {
  it.each([
    ['aldermouth', 't1900002002', 'aldermouth.t1900002002'],
    [
      '6f9619ff-8b86-4d01-b42d-00cf4fc964ff',
      't1/1-2-3-2.moved1',
      '6f9619ff-8b86-4d01-b42d-00cf4fc964ff.t1~1-2-3-2.moved1',
    ],
  ])('of %s %s is %s, one part of an address, and tells both again', (surveyId, exportedId, id) => {
    expect(toFeatureId(surveyId, exportedId)).toBe(id);
    expect(encodeURIComponent(id)).toBe(id);
    expect(fromFeatureId(id)).toEqual({ surveyId, exportedId });
  });

  it.each([
    ['a.b', 'c'],
    ['a', 'b~c'],
    ['a', 'b c'],
    ['a', 'b%2Fc'],
    ['ä', 'b'],
  ])('is not made of %s and %s', (surveyId, exportedId) => {
    expect(() => toFeatureId(surveyId, exportedId)).toThrow(/make no id/);
  });

  it.each(['', 'aldermouth', '.t1', 'aldermouth.', 'aldermouth.t1/n2'])('is none: %s', (id) => {
    expect(fromFeatureId(id)).toBeUndefined();
  });
});
