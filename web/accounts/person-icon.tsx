/** Head and shoulders, for a button that has no room for a name. */
export function PersonIcon() {
  return (
    <svg className="person" viewBox="0 0 16 16" width="14" height="14" aria-hidden="true">
      <circle cx="8" cy="5" r="3" />
      <path d="M2 14.5a6 5.2 0 0 1 12 0z" />
    </svg>
  );
}
