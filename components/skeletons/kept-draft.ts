import { z } from 'zod';
import { type BoneBook, boneBook, boneEntrySchema } from '@/lib/skeletons/schema';
import type { BookDraft, BookState } from './book-state';

/** Changes that the server does not have yet are kept on this device, so that a closed page or a dead battery loses none. */
const nameFor = ({ birdId, readerId }: Pick<BoneBook, 'birdId' | 'readerId'>) =>
  `furcula.bones.${birdId}.${readerId}`;

const keptSchema = z.object({
  base: boneBook,
  draft: z.object({ entries: z.array(boneEntrySchema), explanation: z.string() }),
});

export function keepDraft({ base, draft }: Pick<BookState, 'base' | 'draft'>): void {
  try {
    localStorage.setItem(nameFor(base), JSON.stringify({ base, draft }));
  } catch {
    // No room or not allowed: the page still holds it.
  }
}

export function dropDraft(book: BoneBook): void {
  try {
    localStorage.removeItem(nameFor(book));
  } catch {
    // Not allowed to keep anything, so nothing was kept.
  }
}

/** What was kept of this bird's book, if it can still be merged. */
export function readDraft(book: BoneBook): { base: BoneBook; draft: BookDraft } | null {
  if (!book.abilities.write) return null;
  try {
    const kept = keptSchema.safeParse(JSON.parse(localStorage.getItem(nameFor(book)) ?? 'null'));
    return kept.success && kept.data.base.birdId === book.birdId ? kept.data : null;
  } catch {
    return null;
  }
}
