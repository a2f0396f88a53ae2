import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { readCursor, writeCursor } from '@/lib/platform/paging';

const shape = z.tuple([z.string().nullable(), z.number()]);

describe('cursors', () => {
  // Node's own base64url (RFC 4648, section 5) is what cursors given out before are written in.
  it.each([[['B-00012', 7]], [['Nîmes › Kasten 3', 0]], [['>>>???', -1]], [[null, 3]], [['ÿþý~~', 12]]])(
    '%j: written as Node writes it, and read again',
    (values) => {
      const cursor = writeCursor(values as [string | null, number]);
      expect(cursor).toBe(Buffer.from(JSON.stringify(values)).toString('base64url'));
      expect(readCursor(cursor, shape)).toEqual(values);
    },
  );

  it.each(['', '!', 'a b', 'é', 'bm90IGpzb24', Buffer.from('["x"]').toString('base64url')])(
    '%j was not written here and is refused in words',
    (cursor) => {
      expect(() => readCursor(cursor, shape)).toThrow('Go back to the first page');
    },
  );
});
