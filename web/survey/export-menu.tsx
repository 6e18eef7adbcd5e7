import { EXPORTED_LAYERS, type LayerName } from '../../shared/wire/layers.ts';
import { useSessions } from '../app/sessions.ts';
import { useOpenView } from '../app/use-open-view.ts';
import { Menu } from '../ui/menu.tsx';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';

const EXPORTED: readonly LayerName[] = [...EXPORTED_LAYERS, 'findings'];

/** Every file of the survey, together or singly, with what the licence asks. */
export function ExportMenu({ isDisabled }: { readonly isDisabled: boolean }) {
  const { api, surveys } = useSessions();
  const { openId } = useStore(surveys);
  const source = useOpenView()?.source;
  return (
    <Menu label={words.header.export} align="right" isDisabled={isDisabled || openId === undefined}>
      {(close) =>
        openId === undefined ? null : (
          <div className="export">
            <a className="export-file" href={api.exportUrl(openId)} download onClick={close}>
              <strong>{words.header.exportAll}</strong>
              <span className="muted">{words.header.exportAllNote}</span>
            </a>
            {EXPORTED.map((layer) => (
              <a
                key={layer}
                className="export-file"
                href={api.downloadUrl(openId, layer)}
                download={`${layer}.geojson`}
                onClick={close}
              >
                {words.header.exportLayer(words.layers[layer])}
              </a>
            ))}
            <p className="muted">
              {source !== undefined && source.objectUrl === undefined
                ? source.attribution
                : words.header.licence}
            </p>
          </div>
        )
      }
    </Menu>
  );
}
