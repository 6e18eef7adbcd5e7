import { describe, expect, it } from 'vitest';
import { drawPlace } from '../../tests/places/draw-place.ts';
import { buildNetwork, NETWORK_RULES } from '../network/build-network.ts';
import type { Link, LinkId } from '../network/network.ts';
import { makeCoverage } from './cover-bores.ts';

const bore = { highway: 'trunk', oneway: 'yes', tunnel: 'yes' };

/** Main bore 1–2–3 with a ramp 2–4; a second bore 5–6 crosses above the ramp without a node. */
const { links } = buildNetwork(
  drawPlace({
    nodes: { 1: [0, 0], 2: [100, 0], 3: [300, 0], 4: [220, -90], 5: [160, -200], 6: [160, 200] },
    ways: [
      { id: 11, nodes: [1, 2, 3], tags: bore },
      { id: 12, nodes: [2, 4], tags: { ...bore, highway: 'trunk_link' } },
      { id: 13, nodes: [5, 6], tags: { ...bore, highway: 'tertiary', layer: '-2' } },
    ],
  }),
  NETWORK_RULES,
).value;
const cover = makeCoverage(links);
const idOf = (from: number, to: number) =>
  links.find((l) => l.fromNode === from && l.toNode === to)?.id as LinkId;

describe('coverage along the bores', () => {
  it('reaches as far as the radius on both sides, and ends at a portal', () => {
    expect(cover({ linkId: idOf(2, 3), chainageM: 100 }, 40)).toEqual([
      { linkId: idOf(2, 3), fromM: 60, toM: 140 },
    ]);
    const [atPortal] = cover({ linkId: idOf(1, 2), chainageM: 10 }, 40);
    expect(atPortal).toMatchObject({ fromM: 0, toM: 50 });
  });

  it('goes through a fork into both branches, but never through rock', () => {
    const stretches = cover({ linkId: idOf(1, 2), chainageM: 90 }, 40);
    const round = Object.fromEntries(
      stretches.map((s) => [s.linkId, [Math.round(s.fromM), Math.round(s.toM)]]),
    );
    expect(round).toEqual({ [idOf(1, 2)]: [50, 100], [idOf(2, 3)]: [0, 30], [idOf(2, 4)]: [0, 30] });
  });

  it('goes back from a branch into the bore that it left, and round into the other branch', () => {
    const stretches = cover({ linkId: idOf(2, 4), chainageM: 10 }, 40);
    const round = Object.fromEntries(
      stretches.map((s) => [s.linkId, [Math.round(s.fromM), Math.round(s.toM)]]),
    );
    expect(round).toEqual({ [idOf(1, 2)]: [70, 100], [idOf(2, 3)]: [0, 30], [idOf(2, 4)]: [0, 50] });
  });

  it('covers a whole short link from both ends once', () => {
    const all = cover({ linkId: idOf(2, 4), chainageM: 75 }, 500);
    const whole = (link: Link) => all.filter((s) => s.linkId === link.id);
    for (const link of links.filter((l) => l.fromNode < 5)) {
      expect(whole(link)).toEqual([{ linkId: link.id, fromM: 0, toM: link.lengthM }]);
    }
    expect(whole(links.find((l) => l.fromNode === 5) as Link)).toEqual([]);
  });
});
