import type { CarryStretch } from '../network/carry-address.ts';
import type { ComplexId, LinkId } from '../network/network.ts';
import { otherWall } from '../placement/beacon.ts';
import type { KeepOut } from '../placement/keep-out.ts';
import type { Scheme } from './scheme.ts';

/** What became of one keep-out; `parts` are in several where its link was cut, none where its bore is gone. */
export type CarriedKeepOut = {
  readonly complexId: ComplexId;
  readonly before: KeepOut;
  readonly parts: readonly { readonly complexId: ComplexId; readonly keepOut: KeepOut }[];
  /** How much of it lies where no bore is any more, metres. */
  readonly lostM: number;
};

export type CarriedKeepOuts = {
  /** Those of the schemes whose tunnel did not stay as it was, in the order of schemes and keep-outs. */
  readonly carried: readonly CarriedKeepOut[];
  /** By the complex that they are in now. */
  readonly keepOuts: ReadonlyMap<ComplexId, readonly KeepOut[]>;
};

/**
 * Carries the keep-outs of schemes over to another state of the network: each by its place, in several parts where
 * its link was cut, on the same wall of the bore where it was turned round. The first part keeps the id, others are
 * numbered after it (`id.2`). What lies where no bore is any more has no part.
 *
 * @param isSame whether a tunnel rests on the same links: its scheme stays untouched, and nothing comes into it.
 */
export function carryKeepOuts(
  schemes: readonly Scheme[],
  carry: CarryStretch,
  complexOf: ReadonlyMap<LinkId, ComplexId>,
  isSame: (id: ComplexId) => boolean,
): CarriedKeepOuts {
  const keepOuts = new Map<ComplexId, KeepOut[]>();
  const name = makeNames(schemes);
  const carried = schemes
    .filter(({ complexId }) => !isSame(complexId))
    .flatMap(({ complexId, keepOuts: own }) =>
      own.map((before): CarriedKeepOut => {
        let lostM = before.toM - before.fromM;
        const found = carry(before.linkId, before.fromM, before.toM);
        const parts = found.flatMap(({ isTurned, ofM, ...place }) => {
          const target = complexOf.get(place.linkId);
          if (target === undefined || isSame(target)) return [];
          const wall = isTurned && before.wall !== 'both' ? otherWall(before.wall) : before.wall;
          const keepOut = { ...before, ...place, id: name(before.id), wall };
          lostM -= ofM;
          keepOuts.set(target, [...(keepOuts.get(target) ?? []), keepOut]);
          return [{ complexId: target, keepOut }];
        });
        return { complexId, before, parts, lostM: Math.max(0, lostM) };
      }),
    );
  return { carried, keepOuts };
}

/** Gives each name once: the id itself where it is free, else with the first number that nobody has. */
function makeNames(schemes: readonly Scheme[]): (id: string) => string {
  const known = new Set(schemes.flatMap(({ keepOuts }) => keepOuts.map(({ id }) => id)));
  const given = new Set<string>();
  return (id) => {
    const stem = id.replace(/\.\d+$/, '');
    let name = id;
    for (let number = 2; given.has(name) || (name !== id && known.has(name)); number += 1) {
      name = `${stem}.${number}`;
    }
    given.add(name);
    return name;
  };
}
