import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RefusalError } from '../outcome/refusal.ts';
import { parseRun } from './json-run.ts';
import { makeJsonSplitter } from './json-splitter.ts';

const encode = (text: string) => new TextEncoder().encode(text);
const node = (id: number, name = 'x') => ({ type: 'node', id, lat: 1, lon: 2, tags: { name } });
const relation = (id: number) => ({
  type: 'relation',
  id,
  members: [1, 2, 3].map((ref) => ({ type: 'way', ref, role: '' })),
});

/** What the splitter hands over of a document that arrives in pieces of so many bytes. */
function split(text: string, size: number) {
  const found: unknown[] = [];
  const splitter = makeJsonSplitter((element) => found.push(element));
  const bytes = encode(text);
  try {
    for (let at = 0; at < bytes.length; at += size) splitter.push(bytes.subarray(at, at + size));
    splitter.end();
  } catch (error) {
    if (!(error instanceof RefusalError)) throw error;
    return { found, refused: `${error.refusal.code}: ${error.refusal.context.where}` };
  }
  return { found };
}

describe('parseRun', () => {
  it.each([0, 2])('takes all elements but the last that begins, written with an indent of %s', (indent) => {
    const text = JSON.stringify([node(1), relation(2), node(3), relation(4)], null, indent);
    const run = parseRun(encode(text), text.indexOf('{'));
    expect(run.elements).toEqual([node(1), relation(2), node(3)]);
    expect(text.slice(run.end).trimStart().startsWith(',')).toBe(true);
  });

  it.each([
    ['a single element', '{"type":"node","id":1}'],
    ['elements written in another order', '{"id":1,"type":"node"},{"id":2,"type":"node"}'],
    ['what is no object', '{"type":"node","id":1},5,{"type":"node","id":2},{"type":"node","id":3}'],
    ['damage', '{"type":"node","id":x},{"type":"node","id":2}'],
    ['a text that looks like the start of one', '{"type":"node","id":1,"a":"},{\\"type\\":\\"x\\""}'],
  ])('says nothing of %s', (_, text) => {
    expect(parseRun(encode(text), 0).elements).toBeUndefined();
  });
});

describe('a long document', () => {
  const many = Array.from({ length: 6000 }, (_, i) =>
    i % 7 === 0 ? relation(i) : node(i, i % 3 ? 'Straße },{"type":"node","id":1' : '"\\'),
  );

  it.each([0, 1])('gives what JSON.parse gives, in pieces of any size (indent %s)', (indent) => {
    const text = JSON.stringify({ version: 0.6, elements: many }, null, indent);
    for (const size of [997, 65_536, 100_003, text.length * 2]) {
      expect(split(text, size)).toEqual({ found: many });
    }
  });

  it('is refused at the element that is broken, and hands over what was before it', () => {
    const whole = JSON.stringify({ elements: many });
    const text = whole.replace('"id":4321,', '"id":4321x,');
    expect(text).not.toBe(whole);
    for (const size of [997, 65_536, text.length]) {
      const { found, refused } = split(text, size);
      expect(refused).toBe('input-damaged: element 4322');
      expect(found).toEqual(many.slice(0, 4321));
    }
  });

  it('is the same with runs and without, whatever is in it', () => {
    const part = fc.constantFrom(
      JSON.stringify(node(1)),
      JSON.stringify(relation(2)),
      '{"type":"way","id":3,"nodes":[1,2]}',
      '{"a":[{"type":"x","id":1},{"type":"y","id":2}]}',
      '5',
      '{}',
      '{"type":"node","id":"},{"}',
      '[]',
      '{"type":"node" , "id":4}',
      '',
    );
    fc.assert(
      fc.property(fc.array(part, { maxLength: 12 }), (parts) => {
        const text = `{"elements":[${parts.join(',')}]}`;
        // Pieces of one byte hold no run.
        expect(split(text, text.length)).toEqual(split(text, 1));
      }),
      { seed: 11, numRuns: 500 },
    );
  });
});
