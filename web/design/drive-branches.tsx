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
      <table className="drive-branches" data-testid="drive-branches">
        <caption>{say.branches}</caption>
        <thead>
          <tr>
            {Object.values(say.branchColumns).map((name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {branches.map(({ osmNode, linkId, confusedM, wrongShare }) => (
            <tr key={`${osmNode} ${linkId}`} className="measures">
              <th scope="row">{describe(osmNode, linkId, network)}</th>
              <td>{formatNumber(confusedM.without.p50)}</td>
              <td>{formatNumber(confusedM.with.p50)}</td>
              <td>{formatNumber(confusedM.with.p95)}</td>
              <td>{formatNumber(wrongShare.with * 100, 1)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="muted">{say.branchNote}</p>
    </>
  );
}

/** `Link 3: Southgate Ramp, signed 2 Southgate`, by the numbers of the beacon list. */
function describe(
  osmNode: BranchConfusion['osmNode'],
  linkId: BranchConfusion['linkId'],
  { links, complex }: ComplexNetwork,
): string {
  const index = links.findIndex(({ id }) => id === linkId);
  const link = links[index];
  const name = link === undefined ? '' : nameOfLink(link);
  const sign = complex.diverges
    .find((diverge) => diverge.osmNode === osmNode)
    ?.branches.find((branch) => branch.linkId === linkId)?.label;
  return say.branch(index + 1, name, sign === name ? undefined : sign);
}
