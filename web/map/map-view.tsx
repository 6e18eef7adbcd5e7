import 'maplibre-gl/dist/maplibre-gl.css';
import './map.css';
import { useEffect, useRef, useState } from 'react';
import { AreaDrawing } from './area-drawing.tsx';
import { Legend } from './legend.tsx';
import type { MapViewProps } from './map-types.ts';
import { mapWords } from './map-words.ts';
import { OutlineDrawing } from './outline-drawing.tsx';
import { createTunnelMap, type TunnelMap } from './tunnel-map.ts';

/** The map with its legend: follows its props, says what the user does through them. Fills its parent. */
export default function MapView(props: MapViewProps) {
  const container = useRef<HTMLDivElement>(null);
  const tag = useRef<HTMLDivElement>(null);
  const [opened, setOpened] = useState<TunnelMap | 'failed' | undefined>();
  const latest = useRef(props);
  latest.current = props;

  useEffect(() => {
    if (container.current === null || tag.current === null) return;
    let created: TunnelMap | undefined;
    try {
      created = createTunnelMap({ container: container.current, tag: tag.current }, latest.current);
      setOpened(created);
    } catch (error) {
      console.error(error);
      setOpened('failed');
    }
    return () => {
      created?.destroy();
      setOpened(undefined);
    };
  }, []);

  const Drawing = props.drawing === 'outline' ? OutlineDrawing : AreaDrawing;
  const tunnelMap = opened === 'failed' ? undefined : opened;
  // No list of dependencies: the map itself finds what changed.
  useEffect(() => tunnelMap?.update(props));

  return (
    <div className="map-view" data-map-theme={props.theme}>
      <div ref={container} className="map-canvas" data-testid="map" data-map-idle="false" />
      <div ref={tag} className="map-tag" data-testid="selected-beacon" aria-live="polite" hidden>
        <span />
      </div>
      {opened === 'failed' && (
        <p className="map-failed" role="alert">
          {mapWords.noWebGl}
        </p>
      )}
      {props.drawing !== undefined && tunnelMap !== undefined && (
        <Drawing map={tunnelMap.map} onArea={props.onArea} onCancelled={props.onAreaCancelled} />
      )}
      {opened !== 'failed' && (
        <Legend
          theme={props.theme}
          show={props.show}
          hasChanges={props.changes !== undefined}
          programme={props.programme}
        />
      )}
    </div>
  );
}
