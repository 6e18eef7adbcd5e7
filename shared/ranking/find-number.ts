/** A decimal number without separators of thousands; undefined for anything else. */
export function findNumber(text: string, decimalComma: boolean): number | undefined {
  const plain = decimalComma ? text.replace(/^([+-]?\d*),(\d+)$/, '$1.$2') : text;
  return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(plain) ? Number(plain) : undefined;
}

/** Whether a number may as well be meant a thousand times as large: `12.500`, `12,500`. */
export function isThousandsUnclear(text: string): boolean {
  return /^[+-]?[1-9]\d{0,2}([.,]\d{3})+$/.test(text);
}

/** Without the spaces and apostrophes that set thousands apart and cannot mean anything else. */
export function withoutThousands(text: string): string {
  return /^[+-]?\d{1,3}([\s'’]\d{3})+([.,]\d+)?$/.test(text) ? text.replace(/[\s'’]/g, '') : text;
}
