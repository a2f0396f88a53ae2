import { describe, expect, it } from 'vitest';
import { namesTag, tagOf } from '@/lib/platform/etag';

/** RFC 9110, 8.8.3: strong, in quotes, of visible characters but the quote. */
describe('entity tags', () => {
  it('are strong and follow the content', () => {
    expect(tagOf('{"a":1}')).toMatch(/^"[\x21\x23-\x7e]+"$/);
    expect(tagOf('{"a":1}')).toBe(tagOf('{"a":1}'));
    expect(tagOf('{"a":2}')).not.toBe(tagOf('{"a":1}'));
  });

  // The first four headers are the examples of RFC 9110, 13.1.2 (from memory).
  it.each([
    ['"xyzzy"', '"xyzzy"', true],
    ['W/"xyzzy"', '"xyzzy"', true],
    ['"xyzzy", "r2d2xxxx", "c3piozzzz"', '"c3piozzzz"', true],
    ['*', '"xyzzy"', true],
    ['W/"xyzzy", W/"r2d2xxxx"', '"r2d2xxxx"', true],
    ['"one,two"', '"one,two"', true],
    ['"one,two"', '"two"', false],
    ['"xyzz"', '"xyzzy"', false],
    ['xyzzy', '"xyzzy"', false],
    ['', '"xyzzy"', false],
    [null, '"xyzzy"', false],
  ])('If-None-Match %s and %s: %s', (header, tag, expected) => {
    expect(namesTag(header, tag)).toBe(expected);
  });
});
