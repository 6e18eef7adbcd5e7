import { describe, expect, it } from 'vitest';
import type { Link } from '../../shared/network/network.ts';
import type { Beacon } from '../../shared/placement/beacon.ts';
import { linkId, network } from '../session/tunnel.fixture.ts';
import { draftAround, EMPTY_DRAFT, readDraft } from './keep-out-draft.ts';

/** 400 m long. */
const link = network.links[0] as Link;
const draft = (from: string, to: string) => ({ ...EMPTY_DRAFT, from, to });

describe('a keep-out that is typed', () => {
  it('is read in metres or as kilometres and metres', () => {
    const { keepOut, faults } = readDraft(
      { from: '0+120', to: '124,5', wall: 'left', reason: ' door ' },
      link,
      false,
    );
    expect([keepOut, faults]).toEqual([{ linkId, fromM: 120, toM: 124.5, wall: 'left', reason: 'door' }, {}]);
  });

  it.each([
    ['x', '10', { from: 'Metres or km+m, as 340 or 0+340.' }],
    ['10', '-3', { to: 'Metres or km+m, as 340 or 0+340.' }],
    ['10', '10', { to: 'Must lie past the start.' }],
    ['20', '10', { to: 'Must lie past the start.' }],
    ['10', '1+400', { to: 'At most 400.0 m.' }],
    ['', '10', { from: 'Give a chainage.' }],
    ['', '', { from: 'Give a chainage.', to: 'Give a chainage.' }],
  ])('from %j to %j is told what is wrong', (from, to, faults) => {
    expect(readDraft(draft(from, to), link, true)).toEqual({ faults });
  });

  it('reaches the end of the link where its length is typed as it is shown', () => {
    const short = { ...link, lengthM: 399.96 };
    expect(readDraft(draft('390', '400.0'), short, true).keepOut?.toM).toBe(399.96);
    expect(readDraft(draft('390', '400.1'), short, true).faults).toEqual({ to: 'At most 400.0 m.' });
  });

  it('says nothing of what is still empty until it is asked to be added', () => {
    expect(readDraft(draft('', ''), link, false)).toEqual({ faults: {} });
    expect(readDraft(draft('x', ''), link, false).faults).toHaveProperty('from');
  });
});

describe('a keep-out around a beacon', () => {
  const beacon = (chainageM: number) => ({ at: { linkId, chainageM }, side: 'right' }) as Beacon;

  it('reaches two metres to each side on its wall', () => {
    expect(draftAround(beacon(120), network.links)).toEqual({
      linkId,
      from: '118.0',
      to: '122.0',
      wall: 'right',
      reason: '',
    });
  });

  it('stays on the link', () => {
    for (const chainageM of [0, link.lengthM]) {
      const around = draftAround(beacon(chainageM), network.links);
      expect(readDraft(around, link, true).faults).toEqual({});
    }
  });
});
