import { useState } from 'react';
import type { Area } from '../../shared/wire/survey.ts';
import { words } from '../words.ts';
import { type AreaTexts, fromLines, fromTexts, toLines, toTexts } from './read-area.ts';

const say = words.import;
const LIMITS = ['west', 'south', 'east', 'north'] as const;

type AreaFieldsProps = {
  /** What the fields begin with. */
  readonly area: Area | undefined;
  /** Undefined while what is typed is no area. */
  readonly onArea: (area: Area | undefined) => void;
};

/** An area as it is typed: four limits, or an outline corner by corner. */
export function AreaFields({ area, onArea }: AreaFieldsProps) {
  const [isOutline, setIsOutline] = useState(area !== undefined && 'ring' in area);
  const [first] = useState(area);
  const choose = (outline: boolean) => {
    setIsOutline(outline);
    onArea(undefined);
  };
  return (
    <>
      {isOutline ? (
        <OutlineField area={first} onArea={onArea} />
      ) : (
        <LimitFields area={first} onArea={onArea} />
      )}
      <button type="button" className="link" onClick={() => choose(!isOutline)}>
        {isOutline ? say.typeLimits : say.typeOutline}
      </button>
    </>
  );
}

function LimitFields({ area, onArea }: AreaFieldsProps) {
  const [texts, setTexts] = useState<AreaTexts>(() =>
    toTexts(area !== undefined && 'bbox' in area ? area.bbox : undefined),
  );
  const type = (limit: (typeof LIMITS)[number], text: string) => {
    const next = { ...texts, [limit]: text };
    setTexts(next);
    const bbox = fromTexts(next);
    onArea(bbox && { bbox: [...bbox] });
  };
  return (
    <div className="limits">
      {LIMITS.map((limit) => (
        <label key={limit} className={`stacked limit-${limit}`}>
          {say[limit]} {say.degrees}
          <input
            type="text"
            inputMode="decimal"
            autoComplete="off"
            value={texts[limit]}
            onChange={(event) => type(limit, event.target.value)}
          />
        </label>
      ))}
    </div>
  );
}

function OutlineField({ area, onArea }: AreaFieldsProps) {
  const [text, setText] = useState(() => (area !== undefined && 'ring' in area ? toLines(area.ring) : ''));
  const type = (next: string) => {
    setText(next);
    const ring = fromLines(next);
    onArea(ring && { ring });
  };
  return (
    <label className="stacked">
      {say.corners}
      <textarea
        rows={6}
        spellCheck={false}
        autoComplete="off"
        placeholder={say.cornersHint}
        value={text}
        onChange={(event) => type(event.target.value)}
      />
    </label>
  );
}
