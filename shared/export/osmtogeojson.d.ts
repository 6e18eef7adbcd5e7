declare module 'osmtogeojson' {
  import type { FeatureCollection } from 'geojson';

  /** Overpass JSON (`{elements}`) to GeoJSON; `flatProperties` puts the tags straight into the properties. */
  export default function osmtogeojson(
    data: { readonly elements: readonly object[] },
    options?: { readonly flatProperties?: boolean },
  ): FeatureCollection;
}
