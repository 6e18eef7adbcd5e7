import { describe, expect, it } from 'vitest';
import { toPageRule } from './to-page-rule.ts';

describe('the rule of the page', () => {
  it('has the words of the margin as text, whatever is in them', () => {
    const rule = toPageRule('a"; } body { display: none } \\ \n</style>', '© somebody');
    expect(rule).toContain('"a\\22 ; } body { display: none } \\5c  \\a \\3c /style\\3e "');
    expect(rule).toContain('"© somebody"');
    // Every quotation mark that is left ends or begins a string.
    expect((rule.match(/"/g) ?? []).length % 2).toBe(0);
  });
});
