import { describe, expect, it } from 'vitest';
import { readRecorded } from '../../tests/contracts/overpass/read-recorded.ts';
import { findErrorLine } from './overpass-error-line.ts';

const pageOf = (name: string) => new TextDecoder().decode(readRecorded(name).body);

describe('findErrorLine', () => {
  it('takes the paragraphs marked as errors, all of them, out of a recorded page', () => {
    expect(findErrorLine(pageOf('emptybody'))).toBe('encoding error: Your input contains only whitespace.');
    const both = findErrorLine(pageOf('bad-lat'));
    expect(both).toMatch(/^line 1: static error: For the attribute "s" of the element "bbox-query"/);
    expect(both).toContain('line 1: static error: For the attri');
    expect(both.length).toBeLessThanOrEqual(200);
    expect(both.endsWith('…')).toBe(true);
  });

  it('takes the title of any other page, else its text', () => {
    expect(
      findErrorLine('<html><head><title>502 Bad\n Gateway</title></head><body><p>x</p></body></html>'),
    ).toBe('502 Bad Gateway');
    expect(findErrorLine('rate_limited\u0007\n\n please wait')).toBe('rate_limited please wait');
    expect(findErrorLine('<body></body>')).toBe('');
  });

  it('lets no markup or script through, and keeps escaped text as text', () => {
    const page =
      '<p><strong>Error</strong>: <b onclick="x()">a</b> &lt;script&gt; &#38; &quot;b&quot; &nope;</p>';
    expect(findErrorLine(page)).toBe('a <script> & "b" &nope;');
    expect(findErrorLine('<script>alert(1)</script><style>p{}</style>words')).toBe('words');
  });

  it('takes no time over a page of 16 KiB that is made to cost some', () => {
    const startedMs = performance.now();
    for (const part of ['<', '<script>', '<title>', '<strong>Error</strong>', '<strong ', '&']) {
      findErrorLine(part.repeat((16 * 1024) / part.length));
    }
    expect(performance.now() - startedMs).toBeLessThan(1000);
  });
});
