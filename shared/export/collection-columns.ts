import { EXPORTED_LAYERS, type ExportedLayer } from '../wire/layers.ts';
import { toJsonSchema } from './schemas/feature-schemas.ts';

/** A property as a column of a table; `json`: text that holds a list or an object. */
export type Column = {
  readonly name: string;
  readonly type: 'text' | 'integer' | 'real' | 'boolean' | 'json';
};

type Property = { readonly type?: string; readonly const?: unknown; readonly enum?: readonly unknown[] };
type Schema = {
  readonly properties: {
    readonly features: {
      readonly items: {
        readonly properties: { readonly properties: { readonly properties: Record<string, Property> } };
      };
    };
  };
};

/** The properties of each layer as columns, in the order of its schema, from which they are read. */
export const COLLECTION_COLUMNS = Object.fromEntries(
  EXPORTED_LAYERS.map((layer) => {
    const schema = toJsonSchema(layer) as Schema;
    const { properties } = schema.properties.features.items.properties.properties;
    return [layer, Object.entries(properties).map(([name, property]) => ({ name, type: typeOf(property) }))];
  }),
) as unknown as Readonly<Record<ExportedLayer, readonly Column[]>>;

function typeOf({ type, const: only }: Property): Column['type'] {
  switch (type ?? typeof only) {
    case 'boolean':
      return 'boolean';
    case 'integer':
      return 'integer';
    case 'number':
      return 'real';
    case 'array':
    case 'object':
      return 'json';
    default:
      return 'text';
  }
}
