import { useSessions } from '../app/sessions.ts';

/** A tunnel's name that opens it, and shows on the map which it is while it is pointed at. */
export function TunnelLink({ id, name }: { readonly id: string; readonly name: string }) {
  const { view } = useSessions();
  const hover = (hoveredId: string | undefined) => view.patch({ hoveredId });
  return (
    <button
      type="button"
      className="link tunnel-link"
      onClick={() => view.openTunnel(id)}
      onMouseEnter={() => hover(id)}
      onMouseLeave={() => hover(undefined)}
      onFocus={() => hover(id)}
      onBlur={() => hover(undefined)}
    >
      {name}
    </button>
  );
}
