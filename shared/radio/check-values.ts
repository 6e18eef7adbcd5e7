import { type Refusal, refusal } from '../outcome/refusal.ts';

/** What a value may be. */
export type ValueRange = { readonly unit: string; readonly min: number; readonly max: number };

/** What one value of a profile means and what it may be. */
export type FieldSpec = ValueRange & {
  readonly label: string;
  readonly meaning: string;
  readonly source: string;
};

/** The refusal `rule-invalid` for the first value that its range does not allow (NaN too); undefined where all fit. */
export function checkValues<Name extends string>(
  fields: Readonly<Record<Name, ValueRange>>,
  values: Readonly<Record<NoInfer<Name>, number>>,
): Refusal | undefined {
  for (const name of Object.keys(fields) as Name[]) {
    const { min, max, unit } = fields[name];
    const value = values[name];
    if (!(value >= min && value <= max)) {
      return refusal('rule-invalid', { rule: name, min, max, unit, value });
    }
  }
  return undefined;
}
