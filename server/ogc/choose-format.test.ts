import { describe, expect, it } from 'vitest';
import { chooseFormat } from './choose-format.ts';

const GEO = 'application/geo+json';
const OPENAPI = 'application/vnd.oai.openapi+json;version=3.0';
const BROWSER = 'text/html,application/xhtml+xml,application/xml;q=0.9,image/avif,*/*;q=0.8';

describe('the format', () => {
  it.each([
    [undefined, GEO, 'json'],
    ['', GEO, 'json'],
    ['*/*', GEO, 'json'],
    [BROWSER, GEO, 'html'],
    ['text/html', GEO, 'html'],
    ['text/*', GEO, 'html'],
    ['application/*', GEO, 'json'],
    ['application/geo+json, application/json;q=0.9, */*;q=0.1', GEO, 'json'],
    ['application/json', GEO, 'json'],
    ['APPLICATION/JSON; charset=utf-8', GEO, 'json'],
    ['application/vnd.oai.openapi+json;version=3.0', OPENAPI, 'json'],
    ['text/html, */*', GEO, 'html'],
    ['application/json, text/html', GEO, 'json'],
    ['application/json;q=0.5, text/html;q=0.6', GEO, 'html'],
    ['text/html;q=0, */*', GEO, 'json'],
  ] as const)('for Accept: %s on %s is %s', (accept, jsonType, format) => {
    expect(chooseFormat(accept, jsonType)).toBe(format);
  });

  it.each([
    ['application/gml+xml', GEO],
    ['image/png, text/csv', GEO],
    ['application/json;q=0, application/geo+json;q=0, text/html;q=0', GEO],
    // A page without features is no GeoJSON.
    [GEO, 'application/json'],
    ['nonsense', GEO],
  ])('is none for Accept: %s on %s', (accept, jsonType) => {
    expect(chooseFormat(accept, jsonType)).toBeUndefined();
  });
});
