import type { BranchConfusion } from '../../shared/drive/drive.ts';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import { driveWords as say } from '../drive-words.ts';
import { formatNumber } from '../ui/format.ts';
import { nameOfLink } from './list-beacon-rows.ts';

type DriveBranchesProps = { readonly branches: readonly BranchConfusion[]; readonly network: ComplexNetwork };

/** How long a driver is shown on the branch that was not taken. */
export function DriveBranches({ branches, network }: DriveBranchesProps) {
  if (branches.length === 0) return null;
  return (
    <>
      <h4>{say.branches}</h4>
      <p className="muted">{say.branchNote}</p>
      <ul className="drive-branches" data-testid="drive-branches">
        {branches.map((branch) => (
          <li key={`${branch.osmNode} ${branch.linkId}`}>{describe(branch, network)}</li>
        ))}
      </ul>
    </>
  );
}

function describe(
  { osmNode, linkId, confusedM, wrongShare }: BranchConfusion,
  network: ComplexNetwork,
): string {
  const link = network.links.find(({ id }) => id === linkId);
  const sign = network.complex.diverges
    .find((diverge) => diverge.osmNode === osmNode)
    ?.branches.find((branch) => branch.linkId === linkId)?.label;
  const name = link === undefined ? '' : nameOfLink(link);
  const metres = (value: number) => formatNumber(value);
  const shown = say.confused(
    metres(confusedM.without.p50),
    metres(confusedM.with.p50),
    metres(confusedM.with.p95),
  );
  const wrong = say.wrong(formatNumber(wrongShare.with * 100, 1));
  return say.branch(name, sign === undefined || sign === name ? undefined : sign, `${shown}; ${wrong}`);
}
