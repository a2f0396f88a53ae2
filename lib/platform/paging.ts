import { z } from 'zod';
import { say } from '@/lib/platform/words/say';
import { notValid } from './errors';
import { unfitPart } from './wire-text';

/** Query of every list: a page size and the cursor of the previous answer. */
export const pageQuery = z.object({
  size: z.coerce.number().int().min(1).max(200).default(50),
  after: z.string().max(400).optional(),
});
export type PageQuery = z.infer<typeof pageQuery>;

/** Answer of every list. `next` is null on the last page. */
export const pageOf = <T extends z.ZodType>(row: T) =>
  z.object({ rows: z.array(row), next: z.string().nullable(), total: z.number().int().optional() });

/** Parts of cursors that a column of this type can be compared with. */
export const cursorWhole = z.int32();
export const cursorInstant = z.iso
  .datetime()
  .refine((at) => at >= '1000', 'No instant of ours.')
  .transform((at) => new Date(at));

/**
 * Keyset cursor: the sort values of the last row, opaque to the caller. Without Node's Buffer: the schemas above go to
 * browsers, and that would send them a copy of it.
 */
export const writeCursor = (values: readonly (string | number | null)[]): string =>
  btoa(String.fromCharCode(...new TextEncoder().encode(JSON.stringify(values))))
    .replaceAll('+', '-')
    .replaceAll('/', '_')
    .replace(/=+$/, '');

/** @throws AppError not-valid when the cursor was not made by writeCursor. */
export function readCursor<S extends z.ZodType>(cursor: string, shape: S): z.output<S> {
  try {
    const bytes = atob(cursor.replaceAll('-', '+').replaceAll('_', '/'));
    const values: unknown = JSON.parse(
      new TextDecoder().decode(Uint8Array.from(bytes, (byte) => byte.charCodeAt(0))),
    );
    if (unfitPart(values) === null) return shape.parse(values);
  } catch {
    // Said below, as for every other cursor that is not ours.
  }
  throw notValid(say('This page address is no longer good. Go back to the first page.'));
}

/** Cuts size + 1 fetched rows to a page and says where the next begins. */
export function cutPage<T>(
  rows: T[],
  size: number,
  cursorOf: (row: T) => string,
): { rows: T[]; next: string | null } {
  const page = rows.slice(0, size);
  const last = page.at(-1);
  return { rows: page, next: rows.length > size && last !== undefined ? cursorOf(last) : null };
}
