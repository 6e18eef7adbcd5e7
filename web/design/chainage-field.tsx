import { useState } from 'react';
import { formatNumber, parseChainage } from '../ui/format.ts';
import { words } from '../words.ts';

type ChainageFieldProps = {
  readonly valueM: number;
  readonly lengthM: number;
  readonly onCommit: (chainageM: number) => void;
};

/** A chainage to be typed, in metres or as kilometres+metres; kept when left or on Enter. */
export function ChainageField({ valueM, lengthM, onCommit }: ChainageFieldProps) {
  const [text, setText] = useState<string>();
  const typed = text === undefined ? undefined : parseChainage(text);
  const isBad = text !== undefined && (typed === undefined || typed > lengthM);
  const length = formatNumber(lengthM, 1);
  const commit = () => {
    if (!isBad && typed !== undefined && Math.abs(typed - valueM) >= 0.05) onCommit(typed);
    setText(undefined);
  };
  return (
    <label className="chainage">
      {words.beacons.chainage}
      <input
        type="text"
        inputMode="decimal"
        autoComplete="off"
        value={text ?? valueM.toFixed(1)}
        aria-invalid={isBad}
        onChange={(event) => setText(event.target.value)}
        onBlur={commit}
        onKeyDown={(event) => {
          if (event.key === 'Enter' && !isBad) commit();
          if (event.key === 'Escape') setText(undefined);
        }}
      />
      <span className={isBad ? 'bad' : 'muted of-length'} role={isBad ? 'alert' : undefined}>
        {isBad ? words.beacons.outOfRange(length) : words.beacons.chainageOf(length)}
      </span>
    </label>
  );
}
