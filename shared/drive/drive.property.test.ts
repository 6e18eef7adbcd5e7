import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawCity } from '../../tests/bench/draw-city.ts';
import { drawPlace } from '../../tests/places/draw-place.ts';
import { drawNetwork } from '../assurance/network.fixture.ts';
import type { ComplexNetwork, Link } from '../network/network.ts';
import { designComplex } from '../pipeline/design-complex.ts';
import { anyRules, drawing, getTunnel } from '../pipeline/drawn-networks.fixture.ts';
import { listApproaches, listDrivenArcs } from '../placement/driven-arcs.ts';
import type { Rules } from '../placement/rules.ts';
import { makeScheme } from '../scheme/scheme.ts';
import { buildDrive, type Driveable, findFailures } from './build-drive.ts';
import { CALM, design, linkFrom } from './drive.fixture.ts';
import type { Drive } from './drive.ts';

/** What is not calm about driving. */
const ROUGH = {
  speedMeanShare: 0.95,
  speedSpreadShare: 0.12,
  congestionShare: 0.1,
  portalFixErrorM: 5,
  beaconFixErrorM: 5,
  latencyS: 0.5,
  failureShare: 0.05,
  receiverProfile: 'balanced',
} as const satisfies Partial<Rules>;

/** Any tunnel as it is designed by any rules, then driven under others. */
const designed = fc.tuple(drawing, anyRules).map(([drawn, rules]) => {
  const network = getTunnel(drawPlace(drawn));
  const { beacons, coverage } = designComplex(network, rules, makeScheme(network.complex.id)).value;
  const under = (own: Partial<Rules>): Driveable => ({ rules: { ...CALM, ...own }, beacons, coverage });
  return { network, under };
});

const check = (
  property: (one: { network: ComplexNetwork; under: (own: Partial<Rules>) => Driveable }) => void,
) => fc.assert(fc.property(designed, property), { seed: 11, numRuns: 40 });

const errorsOf = ({ routes }: Drive) =>
  routes.flatMap(({ errorM }) =>
    [errorM.without, errorM.with].flatMap(({ p5, p50, p95 }) => [...p5, ...p50, ...p95]),
  );

describe('drives through any tunnel', () => {
  it('have no error and no failure where all keep the limit and every fix is exact', () => {
    let errors = 0;
    let decisions = 0;
    check(({ network, under }) => {
      const drive = buildDrive(network, under({}), { drives: 8 });
      for (const errorM of errorsOf(drive)) expect(errorM).toBe(0);
      for (const { failures } of drive.decisions)
        expect(failures).toEqual({ without: { late: 0, early: 0 }, with: { late: 0, early: 0 } });
      errors += errorsOf(drive).length;
      decisions += drive.decisions.length;
    });
    expect(errors).toBeGreaterThan(1000);
    expect(decisions).toBeGreaterThan(20);
  });

  it('lead where the assumed speed is the higher one, and lag by as much where it is the lower one', () => {
    const share = fc.integer({ min: 40, max: 140 }).filter((percent) => percent !== 100);
    fc.assert(
      fc.property(designed, share, ({ network, under }, percent) => {
        const speedMeanShare = percent / 100;
        const drive = buildDrive(network, under({ speedMeanShare }), { drives: 4 });
        const sign = speedMeanShare < 1 ? 1 : -1;
        for (const errorM of errorsOf(drive)) expect(errorM * sign).toBeGreaterThanOrEqual(0);
        for (const { errorM, lengthM } of drive.routes)
          expect(errorM.without.p50.at(-1)).toBeCloseTo(lengthM * (1 / speedMeanShare - 1), 1);
      }),
      { seed: 12, numRuns: 40 },
    );
  });

  it('count each driver as misguided once at most, at the first decision point where guidance fails', () => {
    let [several, first] = [0, 0];
    check(({ network, under }) => {
      const { decisions } = buildDrive(network, under(ROUGH), { drives: 60 });
      for (const which of ['without', 'with'] as const) {
        const sums = new Map<string, number>();
        for (const { routeId, reachShare, misguidedShare, failures } of decisions) {
          const before = sums.get(routeId);
          const failing = failures[which].late + failures[which].early;
          expect(misguidedShare[which]).toBeLessThanOrEqual(failing + 1e-9);
          // Where nobody can have been misguided before, all who fail are misguided here.
          if (before === undefined) expect(misguidedShare[which]).toBeCloseTo(failing, 9);
          if (before === undefined) first += 1;
          if (before !== undefined && misguidedShare[which] < failing - 1e-9) several += 1;
          sums.set(routeId, (before ?? 0) + reachShare * misguidedShare[which]);
        }
        for (const sum of sums.values()) expect(sum).toBeLessThanOrEqual(1 + 1e-9);
      }
    });
    expect(first).toBeGreaterThan(20);
    expect(several).toBeGreaterThan(0);
  });

  it('are not worse off with more beacons', () => {
    // Beacons collide and shift what is drawn: so much is noise.
    const worst = (drive: Drive) =>
      drive.routes.map(({ errorM: { with: band } }) =>
        band.p95.map((p95, i) => Math.max(Math.abs(p95), Math.abs(band.p5[i] ?? 0))),
      );
    check(({ network, under }) => {
      const all = under({ ...ROUGH, latencyS: 0, congestionShare: 0 });
      const isKept = new Set(all.beacons.filter((_, i) => i % 3 === 0).map(({ id }) => id));
      const some: Driveable = {
        rules: all.rules,
        beacons: all.beacons.filter(({ id }) => isKept.has(id)),
        coverage: all.coverage.filter(({ beaconId }) => isKept.has(beaconId)),
      };
      const more = worst(buildDrive(network, all, { drives: 500 }));
      const fewer = worst(buildDrive(network, some, { drives: 500 }));
      more.forEach((places, route) => {
        places.forEach((errorM, i) => {
          expect(errorM).toBeLessThan((fewer[route]?.[i] ?? 0) * 1.15 + 1.5);
        });
      });
    });
  });

  it('are the same bytes for the same seed, in whatever order beacons and routes come', () => {
    check(({ network, under }) => {
      const made = under(ROUGH);
      const drive = (one: ComplexNetwork, other: Driveable, seed = 5) =>
        JSON.stringify(buildDrive(one, other, { drives: 20, seed }));
      const first = drive(network, made);
      expect(drive(network, made)).toBe(first);
      const turned = {
        complex: { ...network.complex, routes: [...network.complex.routes].reverse() },
        links: network.links,
      };
      const shuffled = {
        ...made,
        beacons: [...made.beacons].reverse(),
        coverage: [...made.coverage].reverse(),
      };
      expect(drive(turned, shuffled)).toBe(first);
      if (network.complex.routes.length > 0)
        expect(drive(network, made, 6)).not.toBe(first.replace(':5,', ':6,'));
    });
  });

  it('meet every decision point by every link that leads to it', () => {
    let count = 0;
    const meetsAll = (network: ComplexNetwork, made: Driveable) => {
      const driven = listDrivenArcs(network);
      const onRoutes = new Set(
        network.complex.routes.flatMap(({ steps }) => steps.map((s) => `${s.linkId} ${s.against}`)),
      );
      const wanted = network.complex.diverges.flatMap((decision) =>
        listApproaches(driven, decision)
          .map((arc) => ({ link: driven.links[arc >> 1] as Link, isAgainst: arc % 2 === 1 }))
          .filter(({ link, isAgainst }) => onRoutes.has(`${link.id} ${isAgainst}`))
          .map(({ link }) => `${decision.osmNode} ${link.id}`),
      );
      const drive = buildDrive(network, made, { drives: 2 });
      expect(drive.routes.length + drive.routesLeftOut).toBe(network.complex.routes.length);
      const met = new Set(drive.decisions.map(({ osmNode, linkId }) => `${osmNode} ${linkId}`));
      expect(met).toEqual(new Set(wanted));
      // Once from each portal where one may have entered.
      const entryOf = new Map(network.complex.routes.map(({ id, entryNode }) => [id, entryNode]));
      const nameOf = ({ osmNode, linkId, routeId }: Drive['decisions'][number]) =>
        `${osmNode} ${linkId} ${entryOf.get(routeId)}`;
      const listed = findFailures(network, made, { drives: 2 });
      expect(new Set(listed.map(nameOf)).size).toBe(listed.length);
      expect(new Set(listed.map(({ osmNode, linkId }) => `${osmNode} ${linkId}`))).toEqual(met);
      for (const name of drive.decisions.map(nameOf)) expect(listed.map(nameOf)).toContain(name);
      count += wanted.length;
      return drive;
    };
    check(({ network, under }) => {
      meetsAll(network, under(ROUGH));
    });
    expect(count).toBeGreaterThan(20);
    const [large] = drawCity(1, { lengthM: 4_000, ramps: 14, rampM: 300 });
    if (large === undefined) throw new Error('no tunnel was drawn');
    const drive = meetsAll(large, { rules: { ...CALM, ...ROUGH }, beacons: [], coverage: [] });
    expect(drive.routes).toHaveLength(20);
    expect(drive.routesLeftOut).toBeGreaterThan(0);
    // The decisions of a survey are those of the same drives.
    const [one] = findFailures(large, { rules: CALM, beacons: [], coverage: [] }, { drives: 2 });
    expect(one).toBeDefined();
  });
});

describe('a two-way tunnel that is drawn the other way round', () => {
  const at = [0, 400, 900, 1400];
  const tags = (kmh: number, forward: string, backward: string) => ({
    oneway: 'no',
    maxspeed: `${kmh}`,
    [`maxspeed:${forward}`]: '36',
    [`maxspeed:${backward}`]: `${kmh}`,
  });
  const nodes = Object.fromEntries(at.map((eastM, i) => [i + 1, [eastM, 0] as const]));
  const draw = (isTurned: boolean) => {
    const [forward, backward] = isTurned ? ['backward', 'forward'] : ['forward', 'backward'];
    const kmh = [50, 80, 60];
    const ways = kmh.map((limit, i) => ({
      nodes: isTurned ? [i + 2, i + 1] : [i + 1, i + 2],
      tags: tags(limit, forward as string, backward as string),
    }));
    return drawNetwork(nodes, ways);
  };

  it('is driven alike', () => {
    const places = [120, 333, 480, 950, 1100];
    const drives = [false, true].map((isTurned) => {
      const network = draw(isTurned);
      const [link, ...others] = network.links;
      if (link === undefined || others.length > 0) throw new Error('not one link');
      const isFromWest = link.fromNode === 1;
      const chainages = places.map((eastM) => (isFromWest ? eastM : link.lengthM - eastM));
      const wayId = link.stretches[0]?.wayId as number;
      const { id } = linkFrom(network, wayId, link.fromNode);
      expect(id).toBe(link.id);
      const own = { speedMeanShare: 0.9, assumedSpeed: 'entry', latencyS: 0.5 } as const;
      const made = design(network, [[wayId, link.fromNode, ...chainages]], own);
      return { isFromWest, drive: buildDrive(network, made, { drives: 3 }) };
    });
    // The drawing decides which way the chainage runs.
    expect(new Set(drives.map(({ isFromWest }) => isFromWest)).size).toBe(2);
    const byEntry = drives.map(({ drive }) =>
      [...drive.routes]
        .sort((a, b) => (a.routeId < b.routeId ? -1 : 1))
        .map(({ errorM, routeId }) => ({ ends: routeId.split(':')[0], errorM })),
    );
    expect(byEntry[0]).toHaveLength(2);
    for (const [i, one] of (byEntry[0] ?? []).entries()) {
      const other = byEntry[1]?.[i];
      expect(other?.ends).toBe(one.ends);
      one.errorM.with.p50.forEach((errorM, k) => {
        expect(other?.errorM.with.p50[k]).toBeCloseTo(errorM, 1);
        expect(other?.errorM.without.p50[k]).toBeCloseTo(one.errorM.without.p50[k] ?? Number.NaN, 1);
      });
    }
    // To the east 36 km/h all along. To the west 60, 80, 50 km/h: 500 · (60/80 − 1) + 400 · (60/50 − 1) m.
    const atExit = new Map(byEntry[0]?.map(({ ends, errorM }) => [ends, errorM.without.p50.at(-1)]));
    expect(atExit.get('n1-n4')).toBeCloseTo(0, 1);
    expect(atExit.get('n4-n1')).toBeCloseTo(-45, 1);
  });
});
