import { driveWords as say } from '../drive-words.ts';
import { beaconPath, portalPath } from './drive-strip.tsx';

type Mark = keyof typeof say.legend;

type DriveLegendProps = {
  /** There are beacons to be shown. */
  readonly isDesigned: boolean;
  readonly hasDead: boolean;
  readonly hasDecisions: boolean;
  /** The drawing goes on past the exit portal. */
  readonly hasOpenAir: boolean;
};

/** The marks of the chart in words. */
export function DriveLegend({ isDesigned, hasDead, hasDecisions, hasOpenAir }: DriveLegendProps) {
  const isShown: Readonly<Record<Mark, boolean>> = {
    without: true,
    with: isDesigned,
    portal: true,
    beacon: isDesigned,
    dead: hasDead,
    decision: hasDecisions,
    openAir: hasOpenAir,
  };
  return (
    <ul className="drive-legend">
      {(Object.keys(MARKS) as Mark[])
        .filter((mark) => isShown[mark])
        .map((mark) => (
          <li key={mark}>
            <svg className="drive-chart" width="28" height="14" aria-hidden>
              {MARKS[mark]}
            </svg>{' '}
            {say.legend[mark]}
          </li>
        ))}
    </ul>
  );
}

const MARKS: Readonly<Record<Mark, React.ReactNode>> = {
  without: (
    <>
      <path className="hatch" d="M2 13 L14 1 M10 13 L22 1 M18 13 L28 3" />
      <path className="median without" d="M0 7 H28" />
    </>
  ),
  with: (
    <>
      <rect className="band-with" y="1" width="28" height="12" />
      <path className="median with" d="M0 7 H28" />
    </>
  ),
  portal: <path className="portal" d={portalPath(14, 7)} />,
  beacon: <path className="live-beacon" d={beaconPath(14, 7, false)} />,
  dead: <path className="dead-beacon" d={beaconPath(14, 7, true)} />,
  decision: <path className="decision" d="M14 0 V14" />,
  openAir: <rect className="open-air" y="1" width="28" height="12" />,
};
