import { describe, expect, it } from 'vitest';
import { findFormat } from './find-format.ts';

const bytes = (text: string) => Uint8Array.from(text, (character) => character.charCodeAt(0));
const utf8 = (text: string) => new TextEncoder().encode(text);

describe('findFormat', () => {
  it.each([
    ['{"version":0.6,"elements":[]}', 'json'],
    ['\uFEFF\r\n\t {"elements"', 'json'],
    ['<?xml version="1.0"?><osm>', 'xml'],
    ['\uFEFF<osm>', 'xml'],
    ['<!-- <html> --><osm>', 'xml'],
    ['<!-- never closed', 'xml'],
    ['<htmlike/>', 'xml'],
    ['<!DOCTYPE osm><osm>', 'xml'],
    ['<html>', 'html'],
    ['<HTML lang="en">', 'html'],
    ['\uFEFF \n<!DocType  HTML>', 'html'],
    ['<!-- a --> <!-- b -->\n<html>', 'html'],
    // How an Overpass server begins an error page.
    [
      '<?xml version="1.0" encoding="UTF-8"?>\n<!DOCTYPE html PUBLIC\n    "-//W3C//DTD XHTML 1.0 Strict//EN"',
      'html',
    ],
    ['[{"type":"node"}]', 'unknown'],
    ['PK\x03\x04', 'unknown'],
    ['id,lat,lon\n1,2,3', 'unknown'],
    ['', 'unknown'],
    ['   \n', 'unknown'],
  ])('%j is %s', (text, format) => {
    expect(findFormat(utf8(text))).toBe(format);
  });

  it.each([
    ['\0\0\0\x0d\n\x09OSMHeader\x18\x7c\x10\x71\x1a', 'pbf'],
    ['\0\0\0\x0d\n\x09OSMHea', 'pbf'],
    ['\0', 'pbf'],
    ['\0\0\0\x0d\n\x07OSMData\x18\x7c\x10\x71\x1a', 'pbf'],
    ['\0'.repeat(40), 'unknown'],
    ['\xff\xfe<\0o\0s\0m\0>\0', 'unknown'],
    ['\xfe\xff\0<\0o\0s\0m\0>', 'unknown'],
    ['<\0o\0s\0m\0>\0', 'unknown'],
    ['\x1f\x8b\x08\0', 'unknown'],
  ])('the bytes %j are %s', (text, format) => {
    expect(findFormat(bytes(text))).toBe(format);
  });

  it('is quick with a head that is all comments', () => {
    const head = utf8(`${'<!-- -->'.repeat(500)}<x`);
    expect(findFormat(head)).toBe('xml');
  });
});
