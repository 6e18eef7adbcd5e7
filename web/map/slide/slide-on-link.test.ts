import { describe, expect, it } from 'vitest';
import { makeRuler } from '../../../shared/alignment/make-ruler.ts';
import type { LonLat } from '../../../shared/geodesy/lon-lat.ts';
import { moveBy } from '../../../shared/geodesy/segment.ts';
import type { ComplexNetwork, Link, LinkId } from '../../../shared/network/network.ts';
import { makeTrack } from './slide-on-link.ts';

/** An L: 200 m east, then 100 m north; and a bore beside it that a cursor may come nearer to. */
const start: LonLat = [11, 47];
const corner = moveBy(start, 200, 0);
const line = [start, corner, moveBy(corner, 0, 100)];
const beside = [moveBy(start, 0, -12), moveBy(start, 200, -12)];
const link = (id: string, at: readonly LonLat[]) =>
  ({ id: id as LinkId, line: at, lengthM: makeRuler(at).lengthM }) as unknown as Link;
const network = { links: [link('a', line), link('b', beside)] } as unknown as ComplexNetwork;
const linkId = 'a' as LinkId;
const track = makeTrack(network, { at: { linkId, chainageM: 50 }, offsetM: 4 });
if (track === undefined) throw new Error('the link is there');
const lengthM = makeRuler(line).lengthM;

describe('makeTrack', () => {
  it('takes the nearest place on the beacon’s own link, though another bore is nearer', () => {
    expect(track.toAddress(moveBy(start, 80, -11))).toEqual({ linkId, chainageM: expect.closeTo(80, 1) });
    expect(track.toAddress(moveBy(corner, 30, 40)).chainageM).toBeCloseTo(240, 1);
  });

  it('stays on the link at both ends', () => {
    expect(track.toAddress(moveBy(start, -500, 20)).chainageM).toBe(0);
    const end = track.toAddress(moveBy(corner, 0, 900)).chainageM;
    expect(end).toBeCloseTo(lengthM, 2);
    expect(end).toBeLessThanOrEqual(lengthM);
    expect(track.moveBy({ linkId, chainageM: 4 }, -10).chainageM).toBe(0);
    expect(track.moveBy({ linkId, chainageM: lengthM - 4 }, 10).chainageM).toBeLessThanOrEqual(lengthM);
  });

  it('moves by metres, to the centimetre', () => {
    expect(track.moveBy({ linkId, chainageM: 33.789 }, 1)).toEqual({ linkId, chainageM: 34.79 });
  });

  it('puts the beacon on its wall: to the right of the link', () => {
    const [lon, lat] = track.toPosition({ linkId, chainageM: 50 });
    const [wallLon, wallLat] = moveBy(start, 50, -4);
    expect(lon).toBeCloseTo(wallLon, 7);
    expect(lat).toBeCloseTo(wallLat, 7);
  });

  it('has no track for a link that the network lacks', () => {
    expect(makeTrack(network, { at: { linkId: 'x' as LinkId, chainageM: 0 }, offsetM: 4 })).toBeUndefined();
  });
});
