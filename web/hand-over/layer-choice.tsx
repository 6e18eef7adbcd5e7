import { HAND_OVER_FORMATS, type HandOverFormat, type HandOverPreview } from '../../shared/wire/hand-over.ts';
import { EXPORTED_LAYERS, type ExportedLayer } from '../../shared/wire/layers.ts';
import { handOverWords } from '../hand-over-words.ts';
import { formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';

type LayerChoiceProps = {
  readonly format: HandOverFormat;
  readonly off: ReadonlySet<ExportedLayer>;
  readonly counts: HandOverPreview['layers'] | undefined;
  readonly onOff: (layer: ExportedLayer, isOff: boolean) => void;
};

/** The layers with how much each has; what the format cannot hold is said. */
export function LayerChoice({ format, off, counts, onOff }: LayerChoiceProps) {
  const held: readonly ExportedLayer[] = HAND_OVER_FORMATS[format].layers;
  return (
    <fieldset>
      <legend>{handOverWords.layers.legend}</legend>
      <div className="hand-over-layers">
        {EXPORTED_LAYERS.map((layer) => {
          const fits = held.includes(layer);
          return (
            <label className="check" key={layer}>
              <input
                type="checkbox"
                disabled={!fits}
                checked={fits && !off.has(layer)}
                onChange={({ target }) => onOff(layer, !target.checked)}
              />
              <span>{words.layers[layer]}</span>
              <span className="muted number">
                {fits
                  ? counts === undefined
                    ? ''
                    : formatNumber(counts[layer])
                  : handOverWords.layers.misfit(format.toUpperCase())}
              </span>
            </label>
          );
        })}
      </div>
    </fieldset>
  );
}
